import { chmodSync, closeSync, existsSync, openSync } from "node:fs";
import { DatabaseSync } from "node:sqlite";
import { copyBefore } from "./copy-before.ts";
import { DatabaseError } from "./database-error.ts";
import { isDamage } from "./disk-fault.ts";
import { companions } from "./own-file.ts";
import { inTransaction } from "./transaction.ts";

/** Brings a file from one schema to the next: SQL, or work on the open file. It runs in a transaction. */
export type Migration = string | ((database: DatabaseSync) => void);

/** What differs from file to file. */
export interface DatabaseSettings {
  /** Further PRAGMAs, such as `wal_autocheckpoint = 4000`. */
  readonly pragmas?: readonly string[];
  /** Whether a file that is begun can give freed pages back (`PRAGMA incremental_vacuum`). */
  readonly givesBack?: boolean;
}

const busyMs = 5000;

/** A database that is put into its one file when it is closed. */
class WholeDatabase extends DatabaseSync {
  override close(): void {
    if (!this.isOpen) return;
    try {
      this.exec("PRAGMA wal_checkpoint(TRUNCATE)");
    } catch {
      // A full disk: the log beside the file is complete, and the next opening reads it.
    }
    super.close();
  }
}

// SQLite gives its side files the mode of the file, which is made by hand for that.
function makeOwners(path: string): void {
  closeSync(openSync(path, "a", 0o600));
  if (process.platform === "win32") return;
  for (const suffix of companions) if (existsSync(path + suffix)) chmodSync(path + suffix, 0o600);
}

function versionOf(database: DatabaseSync): number {
  return (database.prepare("PRAGMA user_version").get() as { user_version: number }).user_version;
}

function refuseNewer(path: string, version: number, known: number): void {
  if (version <= known) return;
  throw new DatabaseError(
    "database-newer",
    `${path} was written by a newer Drumlin (schema ${version}; this one knows ${known}): start that version.`,
  );
}

function migrate(database: DatabaseSync, path: string, migrations: readonly Migration[]): void {
  const known = migrations.length;
  const found = versionOf(database);
  refuseNewer(path, found, known);
  if (found === known) return;
  if (found > 0) copyBefore(database, path, known);
  inTransaction(database, () => {
    // Asked again: another process may have been quicker.
    const version = versionOf(database);
    refuseNewer(path, version, known);
    for (const migration of migrations.slice(version)) {
      if (typeof migration === "string") database.exec(migration);
      else migration(database);
    }
    database.exec(`PRAGMA user_version = ${known}`);
  });
}

/**
 * Opens a file for writing, in write-ahead mode with each transaction on disk, readable by its owner only, and brings it
 * to the newest schema: migration `n` (from 0) makes schema `n + 1`. A file of an older schema is copied whole beside it
 * first (`logbook-before-2.sqlite`). Closing leaves one whole file. Throws DatabaseError `database-newer` where a newer
 * version wrote it, `database-not-readable` where it is no database or a damaged one.
 */
export function openDatabase(
  path: string,
  migrations: readonly Migration[],
  { pragmas = [], givesBack = false }: DatabaseSettings = {},
): DatabaseSync {
  makeOwners(path);
  let database: DatabaseSync | null = null;
  try {
    // Opening reads the first page: a disk may not give it.
    database = new WholeDatabase(path, { timeout: busyMs, enableForeignKeyConstraints: true });
    // Before anything is in the file: later it would change nothing.
    if (givesBack) database.exec("PRAGMA auto_vacuum = INCREMENTAL");
    for (const pragma of ["journal_mode = WAL", "synchronous = FULL", ...pragmas])
      database.exec(`PRAGMA ${pragma}`);
    migrate(database, path, migrations);
    return database;
  } catch (error) {
    database?.close();
    if (!isDamage(error)) throw error;
    throw new DatabaseError(
      "database-not-readable",
      `${path} can't be read (${(error as Error).message}): move it away, or put a copy in its place.`,
    );
  }
}
