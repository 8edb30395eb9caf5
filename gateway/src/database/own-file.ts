import { accessSync, chmodSync, constants, existsSync, renameSync } from "node:fs";
import { copyReadable } from "./copy-readable.ts";

/** What a database consists of, by the ends of its names. */
export const companions = ["", "-wal", "-shm"] as const;

/** Whether this user may use a file: its own, a copy of another user's, or one that can't even be read. */
export type Claim = "own" | "copied" | "unreadable";

function may(path: string, mode: number): boolean {
  try {
    accessSync(path, mode);
    return true;
  } catch {
    return false;
  }
}

/**
 * Makes a file one that this user can write: its own one is opened to it again, another user's is set aside as `aside`
 * and copied, where it can be read. Throws when the folder does not let it.
 */
export function claimFile(path: string, aside: () => string): Claim {
  const found = companions.map((suffix) => path + suffix).filter((one) => existsSync(one));
  if (process.platform === "win32" || found.every((one) => may(one, constants.R_OK | constants.W_OK)))
    return "own";
  for (const one of found) {
    try {
      chmodSync(one, 0o600);
    } catch {
      // Another user's: whether it can be read is seen next.
    }
  }
  if (found.every((one) => may(one, constants.R_OK | constants.W_OK))) return "own";
  if (!found.every((one) => may(one, constants.R_OK))) return "unreadable";
  const away = aside();
  moveFile(path, away);
  for (const suffix of ["", "-wal"])
    if (existsSync(away + suffix)) copyReadable(away + suffix, path + suffix);
  for (const suffix of ["", "-wal"]) if (existsSync(path + suffix)) chmodSync(path + suffix, 0o600);
  return "copied";
}

/** Moves a database with its side files. */
export function moveFile(from: string, to: string): void {
  for (const suffix of companions) if (existsSync(from + suffix)) renameSync(from + suffix, to + suffix);
}

/** A name beside a file that is free: the file's, what it is, and the time to the second in UTC; counted on where taken. */
export function asideOf(path: string, what: "damaged" | "foreign" | "newer", nowMs: number): string {
  const time = new Date(nowMs).toISOString().slice(0, 19).replaceAll(/[-:]/g, "");
  const aside = `${path}.${what}-${time}Z`;
  for (let n = 1; ; n += 1) {
    const free = n === 1 ? aside : `${aside}-${n}`;
    if (!existsSync(free)) return free;
  }
}
