import { chmodSync, lstatSync, readdirSync } from "node:fs";
import { join } from "node:path";

const ofOthers = 0o077;
/** A line file may lie in the data folder: it is a person's own, and who may read it is theirs to say. */
const isOfPeople = (name: string) => /\.ya?ml(\.|$)/.test(name);

/** Files of a folder and of the folders in it; links are left alone. */
function* filesOf(folder: string): Iterable<string> {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) yield* filesOf(path);
    else if (entry.isFile() && !isOfPeople(entry.name)) yield path;
  }
}

/**
 * Closes what an earlier version left open to others in a data folder. Gives how many files those were. Throws when one is
 * somebody else's. Windows has no such modes: nothing is done there.
 */
export function makePrivate(folder: string): number {
  if (process.platform === "win32") return 0;
  const open = [...filesOf(folder)].filter((path) => (lstatSync(path).mode & ofOthers) !== 0);
  for (const path of open) chmodSync(path, 0o600);
  return open.length;
}
