import { closeSync, openSync, renameSync, rmSync } from "node:fs";
import { dirname, join, parse } from "node:path";
import type { DatabaseSync } from "node:sqlite";

/** Where the copy of a file lies that is about to be brought to `version`: `logbook-before-2.sqlite`. */
function copyPath(path: string, version: number): string {
  const { name, ext } = parse(path);
  return join(dirname(path), `${name}-before-${version}${ext}`);
}

/** Copies a file whole, as it is before it is changed; a copy that was cut off never bears the name. */
export function copyBefore(database: DatabaseSync, path: string, version: number): void {
  const copy = copyPath(path, version);
  const unfinished = `${copy}.new`;
  rmSync(unfinished, { force: true });
  // Made by hand first, for its mode: SQLite takes a file that is empty.
  closeSync(openSync(unfinished, "a", 0o600));
  database.prepare("VACUUM INTO ?").run(unfinished);
  renameSync(unfinished, copy);
}
