import { existsSync, renameSync, statSync } from "node:fs";
import type { DatabaseSync } from "node:sqlite";
import { carryRows } from "./carry-rows.ts";
import { DatabaseError } from "./database-error.ts";
import { companions, type Migration, openDatabase } from "./open-database.ts";

/** How a file is opened that can be made again. */
export interface RenewSettings {
  /** Told before a fresh file is begun: `aside` is where the damaged one goes, null where there was none or an empty one. */
  readonly beforeRenewal: (aside: string | null) => void;
  /** Whether every page is looked at; for files that are read in a second or two. */
  readonly isChecked: boolean;
}

/** Whether a file holds nothing: it is missing, or empty and without a log beside it. */
export function isBare(path: string): boolean {
  return [path, `${path}-wal`].every((one) => !existsSync(one) || statSync(one).size === 0);
}

function isSound(database: DatabaseSync): boolean {
  try {
    const { quick_check: verdict } = database.prepare("PRAGMA quick_check(1)").get() as {
      quick_check: string;
    };
    return verdict === "ok";
  } catch {
    return false;
  }
}

/** Where a damaged file goes: its name with the time, to the second, in UTC; counted on where that is taken. */
function asideOf(path: string, nowMs: number): string {
  const time = new Date(nowMs).toISOString().slice(0, 19).replaceAll(/[-:]/g, "");
  const aside = `${path}.damaged-${time}Z`;
  for (let n = 1; ; n += 1) {
    const free = n === 1 ? aside : `${aside}-${n}`;
    if (!existsSync(free)) return free;
  }
}

/**
 * Opens a file that can be made again, as `openDatabase` does. A damaged one is set aside under its name with
 * `.damaged-TIME`; a fresh one takes its place, with every row that can still be read. Throws DatabaseError
 * `database-newer`.
 */
export function openOrRenew(
  path: string,
  migrations: readonly Migration[],
  { nowMs, isChecked, beforeRenewal }: RenewSettings & { readonly nowMs: number },
): DatabaseSync {
  if (isBare(path)) beforeRenewal(null);
  try {
    const database = openDatabase(path, migrations);
    if (!isChecked || isSound(database)) return database;
    database.close();
  } catch (error) {
    if (!(error instanceof DatabaseError) || error.code !== "database-not-readable") throw error;
  }
  const aside = asideOf(path, nowMs);
  beforeRenewal(aside);
  for (const suffix of companions) if (existsSync(path + suffix)) renameSync(path + suffix, aside + suffix);
  const fresh = openDatabase(path, migrations);
  carryRows(aside, fresh);
  return fresh;
}
