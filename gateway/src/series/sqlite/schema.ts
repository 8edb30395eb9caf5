import { existsSync, renameSync } from "node:fs";
import { dirname, join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { lengthen, type Migration } from "../../database/index.ts";

/** Schemas of the file. One of the first schema is never changed: it is set beside the new one and moved over. */
export const migrations: readonly Migration[] = [
  () => {},
  `CREATE TABLE meta (one INTEGER PRIMARY KEY CHECK (one = 1), stored_seq INTEGER, rows INTEGER NOT NULL, barrier INTEGER NOT NULL);
  INSERT INTO meta VALUES (1, NULL, 0, 0);
  CREATE TABLE series (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
  CREATE TABLE part (id INTEGER PRIMARY KEY AUTOINCREMENT, family INTEGER NOT NULL, first_ms REAL NOT NULL, last_ms REAL NOT NULL, rows INTEGER NOT NULL, data BLOB NOT NULL);
  CREATE INDEX part_of ON part (family, id);
  CREATE TABLE family (id INTEGER PRIMARY KEY, sealed_to REAL NOT NULL, sealed_part INTEGER NOT NULL);
  CREATE TABLE block (series INTEGER NOT NULL, begin INTEGER NOT NULL, span INTEGER NOT NULL, rows INTEGER NOT NULL, data BLOB NOT NULL, PRIMARY KEY (series, begin));
  CREATE TABLE minutes (series INTEGER NOT NULL, begin INTEGER NOT NULL, span INTEGER NOT NULL, data BLOB NOT NULL, PRIMARY KEY (series, begin));
  CREATE TABLE hours (series INTEGER NOT NULL, day INTEGER NOT NULL, data BLOB NOT NULL, PRIMARY KEY (series, day)) WITHOUT ROWID;
  CREATE TABLE follower (name TEXT PRIMARY KEY, cursor INTEGER NOT NULL) WITHOUT ROWID;
  CREATE TABLE owed (follower TEXT NOT NULL, series INTEGER NOT NULL, day INTEGER NOT NULL, from_ms REAL NOT NULL, to_ms REAL NOT NULL, PRIMARY KEY (follower, series, day)) WITHOUT ROWID;
  CREATE TABLE moved (series INTEGER PRIMARY KEY, down_to INTEGER NOT NULL);`,
  // What a derivation puts aside until it comes into force: parts, as they will stand in the log.
  `CREATE TABLE staged (id INTEGER PRIMARY KEY, job TEXT NOT NULL, family INTEGER NOT NULL, first_ms REAL NOT NULL, last_ms REAL NOT NULL, rows INTEGER NOT NULL, data BLOB NOT NULL);
  CREATE INDEX staged_of ON staged (job, id);`,
];

/** The newest schema of `series.sqlite` that is known here. */
export const seriesSchema = migrations.length;

const rollupColumns =
  "(series INTEGER NOT NULL, t INTEGER NOT NULL, n INTEGER NOT NULL, total REAL NOT NULL, least REAL, most REAL, rank INTEGER NOT NULL, PRIMARY KEY (series, t)) WITHOUT ROWID";
/** The first schema: a row for each row, and tables of roll-ups. */
export const firstSchema = `CREATE TABLE series (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
  CREATE TABLE row (series INTEGER NOT NULL, t INTEGER NOT NULL, v REAL, q INTEGER NOT NULL, PRIMARY KEY (series, t)) WITHOUT ROWID;
  CREATE TABLE minute ${rollupColumns};
  CREATE TABLE hour ${rollupColumns};`;

/** Where a store of the first schema lies while it is moved. */
export function earlierPath(path: string): string {
  return join(dirname(path), "series-1.sqlite");
}

function versionOf(path: string): number | null {
  try {
    const database = new DatabaseSync(path);
    try {
      return (database.prepare("PRAGMA user_version").get() as { user_version: number }).user_version;
    } finally {
      database.close();
    }
  } catch {
    // Damaged: opening it says so.
    return null;
  }
}

/**
 * Sets a store of the first schema beside, as one whole file, so that a new one is begun in its place. A start that is cut
 * off before or after the renaming finds either. `mend` opens it first and sets a damaged one aside.
 */
export function setEarlierBeside(path: string, mend: () => void): void {
  if (!existsSync(path)) return;
  try {
    lengthen(path, 1);
  } catch {
    // Another user's, or on a disk that fails: whoever opens it says so, and sets it aside.
  }
  if (versionOf(path) !== 1) return;
  const beside = earlierPath(path);
  if (existsSync(beside))
    throw new Error(`${path} and ${beside} are both stores of the first schema: move one of them away.`);
  mend();
  const database = new DatabaseSync(path);
  try {
    database.exec("PRAGMA wal_checkpoint(TRUNCATE)");
    database.exec("PRAGMA journal_mode = DELETE");
  } finally {
    database.close();
  }
  renameSync(path, beside);
}
