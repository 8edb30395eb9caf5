import { randomBytes } from "node:crypto";
import {
  accessSync,
  constants,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
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
  const path = join(folder, "lock.db");
  try {
    if (existsSync(path)) accessSync(path, constants.R_OK | constants.W_OK);
  } catch {
    // Never made anew: another user's gateway may hold it.
    throw new JournalError(
      "journal-failed",
      `${path} can't be written by this user: give the folder back to it (chown), or start as the user whose folder it is.`,
    );
  }
  const database = new DatabaseSync(path);
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

/** The folder's identity, and what was wrong with its file; null where it never had one. */
function readInstance(path: string): { readonly instance: string } | { readonly why: string | null } {
  try {
    const text = readFileSync(path, "utf8").trim();
    if (/^[0-9a-f]{12}$/.test(text)) return { instance: text };
    return { why: text === "" ? "was missing or empty" : "was damaged" };
  } catch (error) {
    const { code } = error as { readonly code?: string };
    if (code === "ENOENT") return { why: null };
    return { why: code === "EACCES" ? "can't be read by this user" : "was damaged" };
  }
}

function instanceOf(folder: string, onFault: (text: string) => void): string {
  const path = join(folder, "instance");
  const found = readInstance(path);
  if ("instance" in found) return found.instance;
  const hasLived = readdirSync(folder).some((name) => name.startsWith("journal-"));
  const why = found.why ?? (hasLived ? "was missing or empty" : null);
  if (why !== null)
    onFault(`instance ${why}; a new one is made: on a broker of somebody else this gateway is another one`);
  const instance = randomBytes(6).toString("hex");
  writeFileSync(`${path}.new`, `${instance}\n`, { mode: 0o600 });
  renameSync(`${path}.new`, path);
  return instance;
}

/** Takes the folder for this process. Throws `data-folder-in-use` while another one holds it. */
export function lockFolder(folder: string, onFault: (text: string) => void = () => {}): FolderLock {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const database = takeLock(folder);
  // Said to whoever finds it locked; it holds nothing by itself.
  const note = join(folder, "lock");
  let isHeld = true;
  try {
    // One that another user's process left behind can't be written, but taken away.
    rmSync(note, { force: true });
    writeFileSync(note, `process ${process.pid} on ${hostname()}\n`, { mode: 0o600 });
    return {
      instance: instanceOf(folder, onFault),
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
