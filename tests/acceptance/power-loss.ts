import {
  appendFileSync,
  copyFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";

/** Stores that wait for the disk before a checkpoint only, and where each says up to which entry it has everything. */
const stores = {
  "logbook.sqlite": "SELECT stored_seq AS seq FROM barrier",
  "series.sqlite": "SELECT stored_seq AS seq FROM meta",
} as const;

/** SQLite file format, "WAL File Format": where each commit in a log ends, bytes. */
function commitsIn(log: Buffer): number[] {
  const ends: number[] = [];
  if (log.length < 32) return ends;
  const frameBytes = 24 + log.readUInt32BE(8);
  const salts = log.subarray(16, 24);
  for (let at = 32; at + frameBytes <= log.length; at += frameBytes) {
    if (!log.subarray(at + 8, at + 16).equals(salts)) break;
    if (log.readUInt32BE(at + 4) !== 0) ends.push(at + frameBytes);
  }
  return ends;
}

/** SQLite file format, "WAL-Index Format": so many frames of a log were put into its file, and were synced before. */
function backfilledBytes(path: string, log: Buffer): number {
  const index = `${path}-shm`;
  if (!existsSync(index) || log.length < 32) return 0;
  const frames = readFileSync(index).readUInt32LE(96);
  return frames === 0 ? 0 : 32 + frames * (24 + log.readUInt32BE(8));
}

function seqOf(path: string, query: string): number {
  const database = new DatabaseSync(path);
  try {
    return (database.prepare(query).get() as { seq: number | null } | undefined)?.seq ?? 0;
  } catch {
    // Its schema is not in that part of the log yet.
    return 0;
  } finally {
    database.close();
  }
}

/** What a store would know if its log ended at `bytes`. */
function seqUpTo(path: string, query: string, bytes: number): number {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-cut-"));
  try {
    const copy = join(folder, "copy.sqlite");
    copyFileSync(path, copy);
    copyFileSync(`${path}-wal`, `${copy}-wal`);
    truncateSync(`${copy}-wal`, bytes);
    return seqOf(copy, query);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The least of a store's log that the disk has for sure, bytes: a checkpoint up to `seq` is written after it was synced. */
function syncedBytes(path: string, query: string, seq: number): number {
  const log = readFileSync(`${path}-wal`);
  const ends = commitsIn(log);
  let [low, high] = [0, ends.length];
  if (seq === 0) high = 0;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (seqUpTo(path, query, ends[middle] as number) >= seq) high = middle;
    else low = middle + 1;
  }
  const reached = seq === 0 ? 0 : (ends[low] ?? log.length);
  // All of it may be in the file already.
  const known = seq > 0 && seqUpTo(path, query, 0) >= seq ? 0 : reached;
  return Math.max(known, backfilledBytes(path, log));
}

/**
 * What a power loss takes beside the process: what was not synced. Of the journal, which syncs each commit, a torn frame that
 * came after the last one; of the stores any part of their log since the checkpoint, and all of it where there was none.
 * `share` of what may be lost is kept, 0 to 1. Gives how many bytes were lost of each file.
 */
export function losePower(data: string, round: number, share: number): ReadonlyMap<string, number> {
  const names = readdirSync(data);
  const segment = names
    .filter((name) => /^journal-\d+\.sqlite-wal$/.test(name))
    .sort()
    .at(-1);
  if (segment) appendFileSync(join(data, segment), Buffer.alloc(24 + ((round * 1543) % 4096), round));
  const checkpoint = join(data, "checkpoint.state");
  const seq = existsSync(checkpoint) ? seqOf(checkpoint, "SELECT seq FROM meta") : 0;
  const lost = new Map<string, number>();
  for (const [name, query] of Object.entries(stores)) {
    const path = join(data, name);
    if (!existsSync(`${path}-wal`)) continue;
    const { size } = statSync(`${path}-wal`);
    const least = Math.min(size, syncedBytes(path, query, seq));
    const kept = least + Math.floor((size - least) * share);
    truncateSync(`${path}-wal`, kept);
    lost.set(name, size - kept);
  }
  return lost;
}
