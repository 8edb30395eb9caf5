import { accessSync, constants, existsSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { DatabaseError, inTransaction, openDatabase } from "../database/index.ts";
import { SavedRows } from "../path/index.ts";
import type { HeldChanges } from "./checkpoint-copy.ts";
import { plainOf, type StoredPlain } from "./state-row.ts";

const migrations = [
  `CREATE TABLE IF NOT EXISTS meta (one INTEGER PRIMARY KEY CHECK (one = 1), seq INTEGER NOT NULL);
  CREATE TABLE IF NOT EXISTS stage (stage TEXT PRIMARY KEY, version INTEGER NOT NULL) WITHOUT ROWID;
  CREATE TABLE IF NOT EXISTS state (stage TEXT NOT NULL, key TEXT NOT NULL, plain BLOB NOT NULL, PRIMARY KEY (stage, key)) WITHOUT ROWID;`,
  // From here on what is plain lies as JSON text in `plain`.
  "",
];
/** The newest schema of a checkpoint's file that is known here. */
export const checkpointSchema = migrations.length;
/** The state's file, and the generation to go back to. */
export const fileName = "checkpoint.state";
/** The hourly copy of the checkpoint's file: the generation to go back to. */
export const copyName = "checkpoint-before.state";
/** So often the state is copied whole, as the generation to go back to when the file is damaged. */
const copyEveryMs = 3_600_000;

/** The file opened for reading only. Throws DatabaseError `database-newer`. */
function openForReading(path: string): DatabaseSync {
  const database = new DatabaseSync(path, { readOnly: true });
  try {
    const { user_version: schema } = database.prepare("PRAGMA user_version").get() as {
      user_version: number;
    };
    if (schema > migrations.length)
      throw new DatabaseError("database-newer", `${path} has schema ${schema}.`);
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}

/** The entry up to which a file's state goes; null where it has none. Throws when it can't be read. */
export function seqOf(path: string): number | null {
  const database = openForReading(path);
  try {
    return (database.prepare("SELECT seq FROM meta").get()?.seq as number | undefined) ?? null;
  } finally {
    database.close();
  }
}

/** Why a file can't be read as asked, in words that go on after its name; null when it can. */
export function whyNotUsable(path: string, read: (path: string) => unknown): string | null {
  try {
    accessSync(path, constants.R_OK);
    read(path);
    return null;
  } catch (error) {
    if ((error as { code?: string }).code === "EACCES") return "can't be read by this user";
    return error instanceof DatabaseError ? "was written by a newer Drumlin" : "was damaged";
  }
}

/** What becomes of a copy that can't be used. */
export const copyFault = (why: string) => `${copyName} ${why}; the next checkpoint makes another`;

/** The rows of one file; null where it has none. Throws when it can't be read whole, or a newer version wrote it. */
export function rowsOf(path: string): SavedRows | null {
  const database = openForReading(path);
  try {
    const { quick_check: check } = database.prepare("PRAGMA quick_check(1)").get() as { quick_check: string };
    if (check !== "ok") throw new Error(check);
    const meta = database.prepare("SELECT seq FROM meta").get() as { seq: number } | undefined;
    if (!meta) return null;
    const saved = new SavedRows();
    saved.apply({
      seq: meta.seq,
      versions: Object.fromEntries(
        database
          .prepare("SELECT stage, version FROM stage")
          .all()
          .map(({ stage, version }) => [stage as string, version as number]),
      ),
      rows: database
        .prepare("SELECT stage, key, plain FROM state")
        .all()
        .map(({ stage, key, plain }) => ({
          stage: stage as string,
          key: key as string,
          plain: plainOf(plain as StoredPlain),
        })),
    });
    return saved;
  } finally {
    database.close();
  }
}

/** Takes a file with its side files away. */
export function removeFile(path: string): void {
  for (const suffix of ["", "-wal", "-shm"]) rmSync(`${path}${suffix}`, { force: true });
}

/** Takes every saved state of a data folder away: the journal is then run again from its first entry. */
export function forgetState(folder: string): void {
  for (const name of [copyName, fileName]) removeFile(join(folder, name));
}

/** Writes changes of the state: one transaction each, on disk before it returns. */
export class StateFile {
  private readonly database: DatabaseSync;
  private readonly folder: string;
  private readonly everyMs: number;
  private copiedAtMs: number | null = null;
  private copySeq = 0;
  /** What was wrong with the copy; told with the first save. */
  readonly fault: string | null = null;

  constructor(folder: string, everyMs = copyEveryMs) {
    this.folder = folder;
    this.everyMs = everyMs;
    this.database = openDatabase(join(folder, fileName), migrations);
    const copy = join(folder, copyName);
    if (!existsSync(copy)) return;
    // Where it can't be read it is no generation to go back to.
    const why = whyNotUsable(copy, () => {
      this.copySeq = rowsOf(copy)?.seq ?? 0;
    });
    if (why !== null) this.fault = copyFault(why);
  }

  /** Writes the changes; gives the seq of the older generation, from which a start can go on too. */
  save({ seq, versions, rows }: Omit<HeldChanges, "bytes">, nowMs: number): number {
    this.copyWhenDue(nowMs);
    const { database } = this;
    const put = database.prepare(
      "INSERT INTO state (stage, key, plain) VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET plain = excluded.plain",
    );
    const remove = database.prepare("DELETE FROM state WHERE stage = ? AND key = ?");
    inTransaction(database, () => {
      for (const [stage, version] of Object.entries(versions))
        database
          .prepare("INSERT INTO stage VALUES (?, ?) ON CONFLICT DO UPDATE SET version = excluded.version")
          .run(stage, version);
      for (const { stage, key, stored } of rows) {
        if (stored === null) remove.run(stage, key);
        else put.run(stage, key, stored);
      }
      database
        .prepare("INSERT INTO meta VALUES (1, ?) ON CONFLICT DO UPDATE SET seq = excluded.seq")
        .run(seq);
    });
    return this.copySeq;
  }

  private copyWhenDue(nowMs: number): void {
    if (this.copiedAtMs !== null && nowMs - this.copiedAtMs < this.everyMs) return;
    const meta = this.database.prepare("SELECT seq FROM meta").get() as { seq: number } | undefined;
    if (!meta) return;
    const copy = join(this.folder, copyName);
    removeFile(`${copy}.new`);
    this.database.prepare("VACUUM INTO ?").run(`${copy}.new`);
    renameSync(`${copy}.new`, copy);
    this.copiedAtMs = nowMs;
    this.copySeq = meta.seq;
  }

  close(): void {
    this.database.close();
  }
}
