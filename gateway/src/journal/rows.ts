import type { DatabaseSync, StatementSync } from "node:sqlite";
import { burstKind, holdsMany, packBurst, stretchesOf, unpackBurst } from "./bursts.ts";
import type { EntryBatch, StoredEntry } from "./wire.ts";

/** Schemas of a segment's file. A row is one entry, or a burst of them under the number of its last one. */
export const migrations = [
  "CREATE TABLE IF NOT EXISTS entry (seq INTEGER PRIMARY KEY, received_at INTEGER NOT NULL, kind INTEGER NOT NULL, topic TEXT, payload BLOB NOT NULL)",
  "ALTER TABLE entry ADD COLUMN entries INTEGER NOT NULL DEFAULT 1",
];
/** The newest schema of a file of the journal that is known here. */
export const journalSchema = migrations.length;

/** Writes one row of a segment. */
export const insertRow =
  "INSERT INTO entry (seq, received_at, kind, topic, payload, entries) VALUES (?, ?, ?, ?, ?, ?)";

/** So many entries are read at once, and those of the last row. */
const readAtOnce = 2000;
/** What a row takes besides its payload, about. */
const rowBytes = 60;

/** Writes a batch by `insertRow`, within the caller's transaction; gives about how many bytes that takes. */
export function insertBatch(insert: StatementSync, batch: EntryBatch): number {
  let bytes = 0;
  for (const { from, to, isBurst } of stretchesOf(batch)) {
    const last = to - 1;
    const begin = from === 0 ? 0 : (batch.ends[from - 1] as number);
    const payload = isBurst
      ? packBurst(batch, { from, to })
      : batch.bytes.subarray(begin, batch.ends[last] as number);
    const topic = isBurst ? null : (batch.topics[batch.topicOf[last] as number] ?? null);
    const kind = isBurst ? burstKind : (batch.kinds[last] as number);
    const [seq, receivedAt] = [batch.firstSeq + last, batch.receivedAt[last] as number];
    insert.run(seq, receivedAt, kind, topic, payload, to - from);
    bytes += payload.length + rowBytes;
  }
  return bytes;
}

/** The entries of a row. Throws what `isDamage` takes for damage where a burst is not whole. */
export function entriesOfRow(row: StoredEntry): readonly StoredEntry[] {
  return holdsMany(row) ? unpackBurst(row.seq, row.payload) : [row];
}

/** Some 2,000 entries of a file of any schema, from `fromSeq` on; empty at its end. */
export function entriesFrom(database: DatabaseSync, fromSeq: number): StoredEntry[] {
  const rows = database
    .prepare(
      "SELECT seq, received_at AS receivedAt, kind, topic, payload FROM entry WHERE seq >= ? ORDER BY seq",
    )
    .iterate(fromSeq);
  const entries: StoredEntry[] = [];
  for (const row of rows) {
    for (const entry of entriesOfRow(row as unknown as StoredEntry))
      if (entry.seq >= fromSeq) entries.push(entry);
    if (entries.length >= readAtOnce) break;
  }
  return entries;
}
