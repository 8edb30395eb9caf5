import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readdirSync,
  readSync,
  renameSync,
  rmSync,
  writeSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import {
  copyReadable,
  inTransaction,
  intoOneFile,
  lengthen,
  type Unread,
  unreadMark,
} from "../database/index.ts";
import { regrow } from "./regrown-tree.ts";
import { entriesOfRow, insertRow } from "./rows.ts";
import type { StoredEntry } from "./wire.ts";

/** The first number of a segment, and the last one that it is known to have had. */
interface Numbers {
  readonly first: number;
  readonly last: number;
}

/** What became of a damaged segment. */
export interface Salvaged {
  /** Where it lies now, as it was. */
  readonly aside: string;
  /** What its disk does not give of it. */
  readonly unread: readonly Unread[];
  /** Numbers that are known to be missing, first and last of each stretch, in order. */
  readonly lost: readonly (readonly [number, number])[];
}

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

/** What its disk did not give may lie in a payload's last page, of which SQLite has no sum. */
function isWhole(row: StoredEntry): boolean {
  if (Buffer.from(row.payload.buffer, row.payload.byteOffset, row.payload.length).includes(unreadMark))
    return false;
  try {
    return entriesOfRow(row).length > 0;
  } catch {
    return false;
  }
}

/** The first page of a sound file. */
function firstPageOf(sound: DatabaseSync): Buffer {
  const { page_size: size } = sound.prepare("PRAGMA page_size").get() as { page_size: number };
  const page = Buffer.alloc(size);
  sound.exec("PRAGMA wal_checkpoint(TRUNCATE)");
  const file = openSync(sound.location() as string, "r");
  readSync(file, page, 0, size, 0);
  closeSync(file);
  return page;
}

/** Puts the log beside a damaged file into it, as far as it goes. */
function putLog(path: string, first: Buffer): void {
  if (!existsSync(`${path}-wal`)) return;
  const file = openSync(path, "r+");
  const page = Buffer.alloc(first.length);
  readSync(file, page, 0, page.length, 0);
  // Without its head the log would not be looked at.
  if (page.compare(first, 0, 20, 0, 20) !== 0) writeSync(file, first, 0, first.length, 0);
  closeSync(file);
  const database = new DatabaseSync(path);
  try {
    database.exec("PRAGMA wal_checkpoint(TRUNCATE)");
  } catch {
    // What it holds can't be had.
  } finally {
    database.close();
  }
}

/** All whole rows that can be read, in order. */
function* wholeRows(damaged: string, keys: readonly number[]): Generator<StoredEntry> {
  if (keys.length === 0) return;
  const database = new DatabaseSync(damaged);
  try {
    const one = database.prepare(`SELECT ${columns} FROM entry WHERE seq = ?`);
    const read = (key: number) => {
      try {
        return one.get(key) as unknown as StoredEntry | undefined;
      } catch {
        return undefined;
      }
    };
    for (const key of keys) {
      const row = read(key);
      if (row && isWhole(row)) yield row;
    }
  } finally {
    database.close();
  }
}

/** Copies what can be read; gives the numbers that are missing. */
function copyRows(from: string, into: DatabaseSync, { first: firstSeq, last }: Numbers): Salvaged["lost"] {
  const lost: (readonly [number, number])[] = [];
  const first = firstPageOf(into);
  putLog(from, first);
  const keys = regrow(from, first);
  const insert = into.prepare(insertRow);
  // What can't be written (a full disk) must not pass for what can't be read.
  inTransaction(into, () => {
    let next = firstSeq;
    for (const row of wholeRows(from, keys)) {
      const { length } = entriesOfRow(row);
      insert.run(row.seq, row.receivedAt, row.kind, row.topic, row.payload, length);
      if (row.seq - length + 1 > next) lost.push([next, row.seq - length]);
      next = row.seq + 1;
    }
    const end = Math.max(last, keys.at(-1) ?? 0);
    if (end >= next) lost.push([next, end]);
  });
  into.exec(`PRAGMA application_id = ${gapMark}`);
  return lost;
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
 * Puts every row that can still be read, also those after a damaged page, into a fresh file in place of a damaged segment that had
 * these numbers. The damaged one stays beside it as it was. A start that is cut off meanwhile loses nothing: the fresh
 * file takes the place only when it is complete.
 */
export function salvage(path: string, numbers: Numbers, create: (path: string) => DatabaseSync): Salvaged {
  const [source, target] = [`${path}.reading`, `${path}.salvaged`];
  remove(source);
  remove(target);
  const unread = copyReadable(path, source);
  const hasLog = existsSync(`${path}-wal`);
  const unreadOfLog = hasLog ? copyReadable(`${path}-wal`, `${source}-wal`) : [];
  lengthen(source);
  const fresh = create(target);
  try {
    const lost = copyRows(source, fresh, numbers);
    intoOneFile(fresh);
    fresh.close();
    return { aside: swap(path), unread: [...unread, ...unreadOfLog], lost };
  } finally {
    fresh.close();
    remove(source);
  }
}

/** Ends what a start that was cut off had begun: a complete fresh file whose damaged one was moved away already. */
export function finishSalvages(folder: string): void {
  for (const name of readdirSync(folder)) {
    if (!name.endsWith(".sqlite.salvaged")) continue;
    const path = join(folder, name.slice(0, -".salvaged".length));
    if (!existsSync(path)) swap(path);
  }
}
