// Plain JavaScript on purpose: it is read before anything is there that strips types.
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import module from "node:module";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../", import.meta.url));
const folder = `${root}.cache/stripped/`;
/** Where the gateway's own modules lie. */
const sources = ["gateway/src/", "firmware-protocol/src/"];

/** What a source is called among those that are kept, without what tells its versions apart. */
const placeOf = (file) => file.slice(root.length).replaceAll("/", "+");

/** The name under which a source is kept as it is now; another version, or another Node, has another one. */
function nameOf(file) {
  const { mtimeMs, size } = statSync(file);
  return `${placeOf(file)}@${mtimeMs.toString(36)}-${size}-${process.version}.js`;
}

/** Where the text of a source without its types is kept; undefined for what is none of the gateway's own. */
export function keptFileOf(url) {
  if (!url.endsWith(".ts") || !url.startsWith("file:")) return undefined;
  const file = fileURLToPath(url);
  return sources.some((source) => file.startsWith(root + source)) ? folder + nameOf(file) : undefined;
}

/**
 * Strips all sources of their types that are not kept as they are now. False where some can't be kept: nobody may write there, say.
 * Who calls it keeps Node's compiler of types in memory (17 MB): it is for a process that begins again.
 */
export function keepStripped() {
  try {
    mkdirSync(folder, { recursive: true });
    const kept = new Set(readdirSync(folder));
    for (const source of sources)
      for (const entry of readdirSync(root + source, { recursive: true, withFileTypes: true })) {
        if (!entry.isFile() || !entry.name.endsWith(".ts")) continue;
        const file = `${entry.parentPath.replace(/\/?$/, "/")}${entry.name}`;
        const name = nameOf(file);
        if (kept.has(name)) continue;
        const text = module.stripTypeScriptTypes(readFileSync(file, "utf8"));
        // Of two gateways that start at once each writes its own, and the last one stands.
        writeFileSync(`${folder}${name}.${process.pid}`, text);
        renameSync(`${folder}${name}.${process.pid}`, folder + name);
        for (const earlier of kept)
          if (earlier.startsWith(`${placeOf(file)}@`)) rmSync(folder + earlier, { force: true });
      }
    return true;
  } catch {
    return false;
  }
}
