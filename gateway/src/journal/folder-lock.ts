import { randomBytes } from "node:crypto";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { JournalError } from "./journal.ts";

/** A data folder that this process holds. */
export interface FolderLock {
  /** Identity of the folder, made at its first start. */
  readonly instance: string;
  release(): void;
}

// SQLITE_BUSY, https://www.sqlite.org/rescode.html
const busy = 5;

function holderOf(path: string): string {
  try {
    return readFileSync(path, "utf8").trim() || "another process";
  } catch {
    return "another process";
  }
}

/**
 * Takes the lock: an exclusive transaction on a database that holds nothing. The system keeps it by the open file, for
 * whoever mounts the folder on this machine, whatever process numbers they see, and lets go when the process ends.
 */
function takeLock(folder: string): DatabaseSync {
  const database = new DatabaseSync(join(folder, "lock.db"));
  try {
    database.exec("PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE");
    return database;
  } catch (error) {
    database.close();
    if ((error as { errcode?: number }).errcode !== busy) throw error;
    throw new JournalError(
      "data-folder-in-use",
      `${folder} is in use by ${holderOf(join(folder, "lock"))}: one data folder serves one gateway. Stop that one, or name another --data.`,
    );
  }
}

function instanceOf(folder: string): string {
  const path = join(folder, "instance");
  try {
    return readFileSync(path, "utf8").trim();
  } catch {
    const instance = randomBytes(6).toString("hex");
    writeFileSync(path, `${instance}\n`, { mode: 0o600 });
    return instance;
  }
}

/** Takes the folder for this process. Throws `data-folder-in-use` while another one holds it. */
export function lockFolder(folder: string): FolderLock {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const database = takeLock(folder);
  // Said to whoever finds it locked; it holds nothing by itself.
  const note = join(folder, "lock");
  let isHeld = true;
  try {
    writeFileSync(note, `process ${process.pid} on ${hostname()}\n`, { mode: 0o600 });
    return {
      instance: instanceOf(folder),
      release() {
        if (!isHeld) return;
        isHeld = false;
        rmSync(note, { force: true });
        database.close();
      },
    };
  } catch (error) {
    database.close();
    throw error;
  }
}
