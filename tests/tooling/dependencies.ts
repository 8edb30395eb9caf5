// `npm run check:dependencies`: what the lock holds and what DEVELOPERS.md says of it. Every package has a licence that may
// be taken along and a sum; every direct one stands in the list with its version, exact, and its licence.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Licences (SPDX) that ask for no more than their text to be kept. */
const allowed = new Set([
  ...[
    "MIT",
    "MIT-0",
    "ISC",
    "0BSD",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Apache-2.0",
    "BlueOak-1.0.0",
    "Unlicense",
  ],
  ...["CC0-1.0", "Python-2.0"],
]);
/** Tools that nobody gets: weak copyleft and texts under a licence of their own may be used. */
const allowedForTools = new Set([...allowed, "MPL-2.0", "CC-BY-3.0", "CC-BY-4.0"]);

interface Locked {
  readonly version?: string;
  readonly license?: string;
  readonly integrity?: string;
  readonly link?: boolean;
  readonly dev?: boolean;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}

const exact = /^\d+\.\d+\.\d+(-[\w.]+)?$/;
const ownName = /^@drumlin\//;

/** Whether one of the alternatives ("MIT OR Apache-2.0") may be taken. */
function mayTake(license: string | undefined, isTool: boolean): boolean {
  const known = isTool ? allowedForTools : allowed;
  const alternatives = (license ?? "").replaceAll(/[()]/g, "").split(" OR ");
  return alternatives.some((one) => one.split(" AND ").every((part) => known.has(part)));
}

/** What is wrong with a lock file and the list of direct dependencies in a text. */
export function dependencyFaults(
  packages: Readonly<Record<string, Locked>>,
  list: string,
): readonly string[] {
  const faults: string[] = [];
  const direct = new Set<string>();
  for (const [path, locked] of Object.entries(packages)) {
    const isOurs = !path.includes("node_modules/");
    if (isOurs) {
      const all = { ...locked.dependencies, ...locked.devDependencies, ...locked.optionalDependencies };
      for (const [name, version] of Object.entries(all)) {
        if (ownName.test(name)) continue;
        direct.add(name);
        if (!exact.test(version))
          faults.push(`${path || "package.json"}: ${name} ${version} is no exact version`);
      }
    } else if (!locked.link) {
      if (!locked.integrity) faults.push(`${path} has no sum in the lock`);
      if (!mayTake(locked.license, locked.dev === true))
        faults.push(`${path} is under ${locked.license ?? "no licence"}, which is not on our list`);
    }
  }
  const rows = new Map(
    [...list.matchAll(/^\| `([^`]+)` +\| ([\w.-]+) +\| ([^|]+?) +\|/gm)].map(([, name = "", ...told]) => [
      name,
      told,
    ]),
  );
  for (const name of direct) {
    const locked = Object.entries(packages).find(([path]) => path.endsWith(`node_modules/${name}`))?.[1];
    const [version, license] = rows.get(name) ?? [];
    if (version !== locked?.version || license !== locked?.license)
      faults.push(`DEVELOPERS.md should list \`${name}\` ${locked?.version} ${locked?.license}`);
  }
  for (const name of rows.keys())
    if (!direct.has(name)) faults.push(`DEVELOPERS.md lists ${name}, which nothing depends on`);
  return faults;
}

/** Reads the lock and the list of this checkout. */
export function dependencyReport(): { readonly packages: number; readonly faults: readonly string[] } {
  const root = fileURLToPath(new URL("../../", import.meta.url));
  const lock = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8")) as {
    packages: Record<string, Locked>;
  };
  const text = readFileSync(join(root, "DEVELOPERS.md"), "utf8");
  const list = /^## Dependencies$[\s\S]*?(?=^## |$(?![\s\S]))/m.exec(text)?.[0] ?? "";
  return { packages: Object.keys(lock.packages).length, faults: dependencyFaults(lock.packages, list) };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { packages, faults } = dependencyReport();
  for (const fault of faults) console.error(fault);
  console.log(`${packages} packages read, ${faults.length} faults`);
  process.exitCode = faults.length > 0 || packages < 100 ? 1 : 0;
}
