import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  openSync,
  readdirSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
  truncateSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { DatabaseSync, type StatementSync } from "node:sqlite";
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

// SQLite refuses a file that is shorter than its header says (bytes 16 and 28, https://www.sqlite.org/fileformat.html).
// Zeros in place of what is gone let it read what is left.
function lengthen(path: string): void {
  const header = Buffer.alloc(32);
  const file = openSync(path, "r");
  const got = readSync(file, header, 0, 32, 0);
  closeSync(file);
  if (got < 32) return;
  const page = header.readUInt16BE(16) === 1 ? 65_536 : header.readUInt16BE(16);
  const size = page * header.readUInt32BE(28);
  // A garbled header could ask for anything: no segment is that much longer than what is left of it.
  if (size > statSync(path).size && size <= 4 * 1024 ** 3) truncateSync(path, size);
}

/** Written as a file's application id: numbers are missing in it, since what held them could not be read. */
export const gapMark = 0x67617073;

/** The first number from `from` on whose row can be read again; null when none up to the file's last one can. */
function readableFrom(damaged: DatabaseSync, from: number): number | null {
  const probe = damaged.prepare(`SELECT ${columns} FROM entry WHERE seq >= ? ORDER BY seq LIMIT 1`);
  const last = damaged.prepare("SELECT seq FROM entry ORDER BY seq DESC LIMIT 1");
  const canRead = (seq: number) => {
    try {
      const row = probe.get(seq) as StoredEntry | undefined;
      return row !== undefined && entriesOfRow(row).length > 0;
    } catch {
      return false;
    }
  };
  try {
    const end = (last.get()?.seq as number | undefined) ?? 0;
    let bad = from;
    let step = 1;
    // Bad rows lie together, on pages: in strides that double, then back to the edge.
    for (; bad + step <= end && !canRead(bad + step); step *= 2) bad += step;
    let good = Math.min(bad + step, end);
    if (!canRead(good)) return null;
    while (good - bad > 1) {
      const middle = Math.floor((bad + good) / 2);
      if (canRead(middle)) good = middle;
      else bad = middle;
    }
    return good;
  } catch {
    return null;
  }
}

/** Copies rows from number `from` on until one can't be read; gives the number that should have come next. */
function copyRun(
  damaged: DatabaseSync,
  insert: StatementSync,
  from: number,
): { next: number; isEnd: boolean } {
  let next = from;
  try {
    const rows = damaged.prepare(`SELECT ${columns} FROM entry WHERE seq >= ? ORDER BY seq`).iterate(from);
    for (const found of rows) {
      const row = found as unknown as StoredEntry;
      const { length } = entriesOfRow(row);
      insert.run(row.seq, row.receivedAt, row.kind, row.topic, row.payload, length);
      next = row.seq + 1;
    }
    return { next, isEnd: true };
  } catch {
    return { next, isEnd: false };
  }
}

function copyRows(from: string, into: DatabaseSync): void {
  const insert = into.prepare(insertRow);
  into.exec("BEGIN");
  let damaged: DatabaseSync | null = null;
  try {
    damaged = new DatabaseSync(from);
    for (let seq: number | null = 0; seq !== null; ) {
      const { next, isEnd } = copyRun(damaged, insert, seq);
      seq = isEnd ? null : readableFrom(damaged, next);
    }
  } catch {
    // Nothing of it can be read.
  }
  into.exec("COMMIT");
  damaged?.close();
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
  copyRows(source, fresh);
  fresh.close();
  remove(source);
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
