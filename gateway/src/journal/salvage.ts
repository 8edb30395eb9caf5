import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { inTransaction, intoOneFile, lengthen } from "../database/index.ts";
import { greatestBranchKey } from "./branch-keys.ts";
import { entriesOfRow, insertRow } from "./rows.ts";
import type { StoredEntry } from "./wire.ts";

/** Columns of a row that files of every schema have. */
const columns = "seq, received_at AS receivedAt, kind, topic, payload";

const companions = ["", "-wal", "-shm"] as const;

function syncFolder(folder: string): void {
  const directory = openSync(folder, "r");
  fsyncSync(directory);
  closeSync(directory);
}

function remove(path: string): void {
  for (const suffix of companions) rmSync(path + suffix, { force: true });
}

/** Written as a file's application id: numbers are missing in it, since what held them could not be read. */
export const gapMark = 0x67617073;

/**
 * So many numbers are passed over at once in search of a row that can be read again: in a file that lost its second half
 * a search takes seconds, and fewer sound rows than these between two bad pages are still found.
 */
const stride = 8;

const isWhole = (row: StoredEntry): boolean => {
  try {
    return entriesOfRow(row).length > 0;
  } catch {
    return false;
  }
};

/** The number of the last row; of the last but some where the page of the last ones is bad. */
function endOf(damaged: DatabaseSync, path: string): number {
  try {
    return (
      (damaged.prepare("SELECT seq FROM entry ORDER BY seq DESC LIMIT 1").get()?.seq as number | undefined) ??
      0
    );
  } catch {
    return greatestBranchKey(path);
  }
}

/** The first number after `bad`, which can't be read, up to `end` whose row can be; null when none can. */
function readableAfter(damaged: DatabaseSync, bad: number, end: number): number | null {
  const probe = damaged.prepare(`SELECT ${columns} FROM entry WHERE seq >= ? ORDER BY seq LIMIT 1`);
  const canRead = (seq: number) => {
    try {
      return probe.get(seq) !== undefined;
    } catch {
      return false;
    }
  };
  for (let from = bad + 1; from <= end; from += stride) {
    const to = Math.min(from + stride - 1, end);
    if (!canRead(to)) continue;
    let first = from;
    while (first < to && !canRead(first)) first += 1;
    return first;
  }
  return null;
}

/** Whole rows from number `from` on until one can't be read; gives the number that should have come next, null at the end. */
function* rowsFrom(damaged: DatabaseSync, from: number): Generator<StoredEntry, number | null> {
  let next = from;
  try {
    const rows = damaged.prepare(`SELECT ${columns} FROM entry WHERE seq >= ? ORDER BY seq`).iterate(from);
    for (const found of rows) {
      const row = found as unknown as StoredEntry;
      if (isWhole(row)) yield row;
      next = row.seq + 1;
    }
    return null;
  } catch {
    return next;
  }
}

/** All whole rows that can be read, in order. */
function* wholeRows(damaged: DatabaseSync, path: string): Generator<StoredEntry> {
  const end = endOf(damaged, path);
  for (let from: number | null = 0; from !== null; ) {
    const bad: number | null = yield* rowsFrom(damaged, from);
    from = bad === null ? null : readableAfter(damaged, bad, end);
  }
}

/** Whether anything of it can be read at all. */
function openDamaged(path: string): DatabaseSync | null {
  let database: DatabaseSync | null = null;
  try {
    database = new DatabaseSync(path);
    database.prepare(`SELECT ${columns} FROM entry LIMIT 0`);
    // Into the one file: its pages are looked at, too.
    database.exec("PRAGMA wal_checkpoint(TRUNCATE)");
    return database;
  } catch {
    database?.close();
    return null;
  }
}

function copyRows(from: string, into: DatabaseSync): void {
  const insert = into.prepare(insertRow);
  const damaged = openDamaged(from);
  try {
    // What can't be written (a full disk) must not pass for what can't be read.
    inTransaction(into, () => {
      if (damaged === null) return;
      for (const row of wholeRows(damaged, from))
        insert.run(row.seq, row.receivedAt, row.kind, row.topic, row.payload, entriesOfRow(row).length);
    });
  } finally {
    damaged?.close();
  }
  into.exec(`PRAGMA application_id = ${gapMark}`);
}

/** Where a damaged file's parts go: a name not in use yet. */
function placeAside(path: string): string {
  const taken = readdirSync(dirname(path));
  for (let n = 1; ; n += 1) {
    const aside = `${path}.damaged-${n}`;
    if (!taken.some((name) => name.startsWith(basename(aside)))) return aside;
  }
}

function swap(path: string): string {
  const aside = placeAside(path);
  for (const suffix of companions) if (existsSync(path + suffix)) renameSync(path + suffix, aside + suffix);
  renameSync(`${path}.salvaged`, path);
  syncFolder(dirname(path));
  return aside;
}

/**
 * Puts every row that can still be read, also those after a damaged page, into a fresh file in place of a damaged segment.
 * The damaged one stays beside it as it was; gives its path. A start that is cut off meanwhile loses nothing: the fresh
 * file takes the place only when it is complete.
 */
export function salvage(path: string, create: (path: string) => DatabaseSync): string {
  const [source, target] = [`${path}.reading`, `${path}.salvaged`];
  remove(source);
  remove(target);
  copyFileSync(path, source);
  if (existsSync(`${path}-wal`)) copyFileSync(`${path}-wal`, `${source}-wal`);
  lengthen(source);
  const fresh = create(target);
  try {
    copyRows(source, fresh);
    intoOneFile(fresh);
  } finally {
    fresh.close();
    remove(source);
  }
  return swap(path);
}

/** Ends what a start that was cut off had begun: a complete fresh file whose damaged one was moved away already. */
export function finishSalvages(folder: string): void {
  for (const name of readdirSync(folder)) {
    if (!name.endsWith(".sqlite.salvaged")) continue;
    const path = join(folder, name.slice(0, -".salvaged".length));
    if (!existsSync(path)) swap(path);
  }
}
