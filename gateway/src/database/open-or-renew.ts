import { existsSync, linkSync, renameSync, rmSync, statSync } from "node:fs";
import { join, parse } from "node:path";
import type { DatabaseSync } from "node:sqlite";
import { carryRows } from "./carry-rows.ts";
import { copyReadable } from "./copy-readable.ts";
import { DatabaseError } from "./database-error.ts";
import { intoOneFile } from "./one-file.ts";
import { type DatabaseSettings, type Migration, openDatabase } from "./open-database.ts";
import { asideOf, claimFile, companions, moveFile } from "./own-file.ts";

/** What was wrong with a file at its opening. */
export interface FileFault {
  /** `unreadable`: another user's. `copied`: another user's too, but it could be read. */
  readonly why: "missing" | "damaged" | "unreadable" | "copied" | "newer";
  /** Where the file that was found is now; null where there was none, and for a newer one, which stays. */
  readonly aside: string | null;
  /** The file that is used. */
  readonly used: string;
  /** Nothing of it is lost. */
  readonly isWhole: boolean;
}

/** How a file is opened that can be made again. */
export interface RenewSettings extends DatabaseSettings {
  /** Told of a fault, before a fresh file is begun. */
  readonly beforeRenewal: (fault: FileFault) => void;
  /** Whether the open file is sound; without it every page is looked at, for files that are read in a second or two. */
  readonly isSound?: (database: DatabaseSync) => boolean;
  /** Puts a fresh file in order that has every row that could be read of a damaged one; of tables in `lost` not all could be. */
  readonly afterCarrying?: (database: DatabaseSync, lost: ReadonlySet<string>) => void;
}

type Settings = RenewSettings & { readonly nowMs: number };

/** Whether a file holds nothing: it is missing, or empty and without a log beside it. */
export function isBare(path: string): boolean {
  return [path, `${path}-wal`].every((one) => !existsSync(one) || statSync(one).size === 0);
}

function isWhollySound(database: DatabaseSync): boolean {
  const { quick_check: verdict } = database.prepare("PRAGMA quick_check(1)").get() as { quick_check: string };
  return verdict === "ok";
}

/** The file as it is, sound; null when it is damaged. Throws DatabaseError `database-newer`. */
function openSound(
  path: string,
  migrations: readonly Migration[],
  { isSound = isWhollySound, ...settings }: Settings,
): DatabaseSync | null {
  let database: DatabaseSync | null = null;
  try {
    database = openDatabase(path, migrations, settings);
    if (isSound(database)) return database;
  } catch (error) {
    if (error instanceof DatabaseError && error.code !== "database-not-readable") throw error;
    if (database === null && !(error instanceof DatabaseError)) throw error;
  }
  database?.close();
  return null;
}

/** What an older version uses meanwhile: `logbook-for-5.sqlite`. */
function meanwhileOf(path: string, known: number): string {
  const { dir, name, ext } = parse(path);
  return join(dir, `${name}-for-${known}${ext}`);
}

/**
 * A damaged file as it can be read: where its disk does not give all of the log beside it, SQLite reads nothing of either; so it goes
 * by another name, with as much of the log as comes before that.
 */
function withReadableLog(path: string): { readonly source: string; forget(): void } {
  const source = `${path}.reading`;
  const forget = () => {
    for (const suffix of companions) rmSync(source + suffix, { force: true });
  };
  forget();
  if (!existsSync(`${path}-wal`) || copyReadable(`${path}-wal`, `${source}-wal`).length === 0) {
    forget();
    return { source: path, forget };
  }
  try {
    linkSync(path, source);
  } catch {
    // No such names on this file system.
    copyReadable(path, source);
  }
  return { source, forget };
}

/** What could be read of a damaged file, before it takes its place. */
const carriedOf = (path: string) => `${path}.carried`;

/** Makes `carriedOf(path)`. It bears that name only once it is whole: a start that is cut off meanwhile begins again. */
function carryWhole(path: string, migrations: readonly Migration[], settings: Settings): void {
  const unfinished = `${path}.new`;
  for (const suffix of companions) rmSync(unfinished + suffix, { force: true });
  const fresh = openDatabase(unfinished, migrations, settings);
  const { source, forget } = withReadableLog(path);
  try {
    const lost = carryRows(source, fresh);
    settings.afterCarrying?.(fresh, lost);
    intoOneFile(fresh);
  } finally {
    fresh.close();
    forget();
  }
  renameSync(unfinished, carriedOf(path));
}

/** Goes on where a start was cut off between setting a damaged file aside and putting the carried one in its place. */
function finishCarrying(path: string): void {
  if (!existsSync(carriedOf(path))) return;
  if (existsSync(path)) rmSync(carriedOf(path));
  else renameSync(carriedOf(path), path);
}

/**
 * Opens a file that can be made again, as `openDatabase` does, whatever is wrong with it, and says so. A damaged one is
 * set aside under its name with `.damaged-TIME`, and a fresh one has every row that can still be read; one of another
 * user with `.foreign-TIME`, copied where it can be read; one that a newer version wrote stays, and another is used
 * meanwhile. Throws when the folder does not let it.
 */
export function openOrRenew(
  path: string,
  migrations: readonly Migration[],
  settings: Settings,
): DatabaseSync {
  const { nowMs, beforeRenewal } = settings;
  const tell = (why: FileFault["why"], aside: string | null, isWhole = false) =>
    beforeRenewal({ why, aside, used: path, isWhole });
  finishCarrying(path);
  if (isBare(path)) tell("missing", null);
  const foreign = asideOf(path, "foreign", nowMs);
  const claim = claimFile(path, () => foreign);
  if (claim === "copied") tell("copied", foreign, true);
  if (claim === "unreadable") {
    tell("unreadable", foreign);
    moveFile(path, foreign);
  }
  try {
    const sound = openSound(path, migrations, settings);
    if (sound) return sound;
  } catch (error) {
    if (!(error instanceof DatabaseError) || error.code !== "database-newer") throw error;
    const used = meanwhileOf(path, migrations.length);
    beforeRenewal({ why: "newer", aside: null, used, isWhole: !isBare(used) });
    return openOrRenew(used, migrations, {
      ...settings,
      beforeRenewal: (fault) => fault.why !== "missing" && beforeRenewal(fault),
    });
  }
  const aside = asideOf(path, "damaged", nowMs);
  tell("damaged", aside);
  carryWhole(path, migrations, settings);
  moveFile(path, aside);
  renameSync(carriedOf(path), path);
  return openDatabase(path, migrations, settings);
}
