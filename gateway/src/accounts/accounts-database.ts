import { existsSync, mkdirSync, readdirSync } from "node:fs";
import { join } from "node:path";
import type { DatabaseSync } from "node:sqlite";
import {
  type FileFault,
  inTransaction,
  isDiskFault,
  type Migration,
  openOrRenew,
} from "../database/index.ts";
import { AccountError } from "./account-error.ts";
import { type AuditEntry, auditOf } from "./audit.ts";

const migrations: readonly Migration[] = [
  `CREATE TABLE person (key TEXT PRIMARY KEY, name TEXT NOT NULL, role TEXT NOT NULL, hash TEXT NOT NULL, made_at INTEGER NOT NULL);
  CREATE TABLE session (hash BLOB PRIMARY KEY, person TEXT NOT NULL REFERENCES person (key) ON DELETE CASCADE, made_at INTEGER NOT NULL, used_at INTEGER NOT NULL);
  CREATE TABLE token (name TEXT PRIMARY KEY, hash BLOB NOT NULL UNIQUE, role TEXT NOT NULL, made_at INTEGER NOT NULL, used_at INTEGER);
  CREATE TABLE node (name TEXT PRIMARY KEY, hash TEXT NOT NULL, made_at INTEGER NOT NULL);
  CREATE TABLE audit (place INTEGER PRIMARY KEY, at INTEGER NOT NULL, by TEXT NOT NULL, what TEXT NOT NULL, subject TEXT NOT NULL, before TEXT, after TEXT);
  CREATE INDEX session_person ON session (person);`,
  `CREATE TABLE IF NOT EXISTS device (hash BLOB PRIMARY KEY, person TEXT NOT NULL REFERENCES person (key) ON DELETE CASCADE, made_at INTEGER NOT NULL);
  CREATE INDEX IF NOT EXISTS device_person ON device (person);
  CREATE INDEX IF NOT EXISTS session_person ON session (person);
  CREATE INDEX IF NOT EXISTS audit_what ON audit (what, place);`,
  "ALTER TABLE person ADD COLUMN disabled_at INTEGER;",
  "ALTER TABLE person ADD COLUMN settings TEXT;",
];
/** The newest schema of `accounts.sqlite` that is known here. */
export const accountsSchema = migrations.length;
/** Written as a file's application id: it took the place of accounts that are lost, and nobody may be the first one. */
const lostMark = 0x6c6f7374;

/** The accounts' file: SQLite, since the command line changes it beside a running gateway. */
export interface AccountsDatabase {
  readonly database: DatabaseSync;
  /** The accounts that this folder had are lost; whoever is added at the terminal is the first of the new ones. */
  isLost(): boolean;
  /**
   * Writes in one transaction with its audit entries, then tells the listeners. Throws AccountError
   * `accounts-not-written` when the disk does not take it.
   */
  change<Result>(work: (audit: (entry: Omit<AuditEntry, "place" | "atMs">) => void) => Result): Result;
  /** Newest first; `before` is the place of the last one of the page before. */
  audit(limit: number, before?: number): readonly AuditEntry[];
  /** Writes what is worth having and can be done without: a disk that does not take it is told of, and no more. */
  note(work: () => void): void;
  onChange(listener: () => void): void;
  /** True once after another process changed the file. */
  changedElsewhere(): boolean;
  tell(): void;
  close(): void;
}

/** Whether the disk did not take a change. */
export function isNotWritten(error: unknown): boolean {
  return error instanceof AccountError && error.code === "accounts-not-written";
}

/** Whether a gateway has run in this folder. */
function hasLived(folder: string): boolean {
  return existsSync(folder) && readdirSync(folder).some((name) => /^journal-\d{12}\.sqlite/.test(name));
}

/** The file as it is, or what could be kept of it; marked where the accounts of a folder that has lived are lost. */
function openFile({ folder, now, isFirstStart, onFault }: AccountsFile): DatabaseSync {
  const faults: FileFault[] = [];
  const isFresh = isFirstStart ?? !hasLived(folder);
  const database = openOrRenew(join(folder, "accounts.sqlite"), migrations, {
    nowMs: now(),
    beforeRenewal: (fault) => faults.push(fault),
  });
  for (const fault of faults) if (!(isFresh && fault.why === "missing")) onFault?.(fault);
  const isBegunAnew = faults.some(({ why, isWhole }) => !isWhole && !(isFresh && why === "missing"));
  if (isBegunAnew && database.prepare("SELECT 1 FROM person LIMIT 1").get() === undefined)
    database.exec(`PRAGMA application_id = ${lostMark}`);
  return database;
}

interface AccountsFile {
  readonly folder: string;
  readonly now: () => number;
  /** The folder is used for the first time; by default where there is no journal. */
  readonly isFirstStart?: boolean | undefined;
  /** Told what was wrong with the file. */
  readonly onFault?: ((fault: FileFault) => void) | undefined;
  readonly onTrouble?: (trouble: string | null) => void;
}

/**
 * Opens `accounts.sqlite` of a data folder, readable by its owner only. One that is damaged or can't be used is set aside,
 * and what could be read of it is kept; one of a newer version stays, and another is used meanwhile.
 */
export function openAccountsDatabase(file: AccountsFile): AccountsDatabase {
  const { folder, now, onTrouble = () => {} } = file;
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const database = openFile(file);
  const entries = auditOf(database);
  const dataVersion = database.prepare("PRAGMA data_version");
  const versionNow = () => (dataVersion.get() as { data_version: number }).data_version;
  const listeners = new Set<() => void>();
  let seen = versionNow();
  let open = true;
  let trouble: string | null = null;

  function turned(now: string | null): void {
    if ((trouble === null) !== (now === null)) onTrouble(now);
    trouble = now;
  }
  /** Writes; a disk that does not take it is told of once, until it does again. */
  function written<Result>(work: () => Result): Result {
    try {
      const result = work();
      turned(null);
      return result;
    } catch (error) {
      if (!isDiskFault(error)) throw error;
      turned((error as Error).message);
      throw new AccountError("accounts-not-written", "The disk does not take it now: nothing was changed.");
    }
  }

  function tell(): void {
    for (const listener of listeners) listener();
  }
  const anyone = database.prepare("SELECT 1 FROM person LIMIT 1");
  const mark = database.prepare("PRAGMA application_id");
  return {
    database,
    isLost: () => anyone.get() === undefined && mark.get()?.application_id === lostMark,
    change(work) {
      const result = written(() => inTransaction(database, () => work((entry) => entries.add(entry, now()))));
      tell();
      return result;
    },
    note(work) {
      try {
        written(work);
      } catch (error) {
        if (!isNotWritten(error)) throw error;
      }
    },
    audit: entries.page,
    onChange(listener) {
      listeners.add(listener);
    },
    changedElsewhere() {
      if (!open) return false;
      const version = versionNow();
      const changed = version !== seen;
      seen = version;
      return changed;
    },
    tell,
    close() {
      if (!open) return;
      open = false;
      database.close();
    },
  };
}
