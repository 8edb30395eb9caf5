// `npm run -s sbom > sbom.cdx.json`: a bill of materials (CycloneDX 1.5) of what is shipped, from the lock alone: what the
// gateway, the protocol and the page need, and Node itself. `npm sbom --omit dev` leaves out what the tests need too.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

interface Locked {
  readonly name?: string;
  readonly version?: string;
  readonly license?: string;
  readonly integrity?: string;
  readonly link?: boolean;
  readonly resolved?: string;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}
type Packages = Readonly<Record<string, Locked>>;

/** Parts of this project that reach a keeper. */
const shipped = ["", "firmware-protocol", "gateway", "monitor-ui"];

/** Where a package that is asked for from `path` lies, as Node looks for it; null where it is not in the lock. */
function foundFrom(packages: Packages, path: string, name: string): string | null {
  for (
    let at = path;
    ;
    at = at.includes("/node_modules/") ? at.slice(0, at.lastIndexOf("/node_modules/")) : ""
  ) {
    const place = `${at === "" ? "" : `${at}/`}node_modules/${name}`;
    const locked = packages[place];
    if (locked) return locked.link ? (locked.resolved ?? null) : place;
    if (at === "") return null;
  }
}

const nameOf = (path: string): string =>
  path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length);

function componentOf(path: string, { version = "", license = "", integrity = "" }: Locked) {
  const name = nameOf(path);
  const purl = `pkg:npm/${name.replace("@", "%40")}@${version}`;
  const [algorithm, sum = ""] = integrity.split("-");
  return {
    type: "library",
    "bom-ref": `${purl}#${path}`,
    name,
    version,
    purl,
    licenses: [/ (OR|AND) /.test(license) ? { expression: license } : { license: { id: license } }],
    hashes: [
      { alg: `SHA-${algorithm?.slice("sha".length)}`, content: Buffer.from(sum, "base64").toString("hex") },
    ],
  };
}

/** The bill of what is shipped, by a lock file's packages. */
export function billOf(packages: Packages) {
  const seen = new Set<string>(shipped);
  const waiting = [...shipped];
  for (let path = waiting.pop(); path !== undefined; path = waiting.pop()) {
    const { dependencies, optionalDependencies } = packages[path] ?? {};
    for (const name of Object.keys({ ...dependencies, ...optionalDependencies })) {
      const found = foundFrom(packages, path, name);
      if (found === null || seen.has(found)) continue;
      seen.add(found);
      waiting.push(found);
    }
  }
  const { name = "", version = "" } = packages[""] ?? {};
  return {
    $schema: "http://cyclonedx.org/schema/bom-1.5.schema.json",
    bomFormat: "CycloneDX",
    specVersion: "1.5",
    version: 1,
    metadata: { component: { type: "application", "bom-ref": name, name, version } },
    components: [...seen]
      .filter((path) => path.includes("node_modules/"))
      .sort()
      .map((path) => componentOf(path, packages[path] as Locked)),
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const lock = readFileSync(new URL("../../package-lock.json", import.meta.url), "utf8");
  console.log(JSON.stringify(billOf((JSON.parse(lock) as { packages: Packages }).packages), null, 2));
}
