import type { DatabaseSync } from "node:sqlite";

/**
 * Puts all of an open file into its one file, on disk, before that is moved by its name. Throws where the disk does not take it: what
 * stands in the log beside it would stay behind.
 */
export function intoOneFile(database: DatabaseSync): void {
  const { busy } = database.prepare("PRAGMA wal_checkpoint(TRUNCATE)").get() as { busy: number };
  if (busy !== 0) throw new Error("A file is in use and can't be put into one.");
}
