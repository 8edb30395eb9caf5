import type { DatabaseSync } from "node:sqlite";
import { inTransaction } from "../database/index.ts";
import type { Batch } from "../fills/index.ts";
import { defineRecord, jsonOf, lastOfEach, type Row } from "./define-record.ts";

const batchOf = (row: Row) => jsonOf<Batch>(row, "batch");

/** Each turn of each batch of salt water, for ever. */
export const batchRecord = defineRecord<Batch, Batch>({
  kind: "batch",
  table: "batch",
  key: ["drum", "at"],
  columns: {
    drum: ({ drum }) => drum,
    at: ({ atMs }) => atMs,
    batch: (batch) => JSON.stringify(batch),
  },
  again: "last-stands",
  order: "rowid",
  view: batchOf,
  schema: {
    8: `CREATE TABLE batch (drum TEXT NOT NULL, at INTEGER NOT NULL, batch TEXT NOT NULL, PRIMARY KEY (drum, at));
        CREATE INDEX batch_at ON batch (at);`,
  },
});

/** What is asked of batches, and their change by a derivation. */
export function batchesOf(database: DatabaseSync) {
  const { write } = batchRecord.writer(database);
  const between = database.prepare("SELECT batch FROM batch WHERE at >= ? AND at < ? ORDER BY at, drum");
  const remove = database.prepare("DELETE FROM batch WHERE drum = ? AND at >= ? AND at < ?");
  return {
    batchesIn: (fromMs: number, toMs: number) => between.all(fromMs, toMs).map(batchOf),
    lastBatches: (beforeMs?: number) =>
      lastOfEach(database, {
        table: "batch",
        group: "drum",
        order: "at",
        time: "at",
        column: "batch",
        ...(beforeMs === undefined ? {} : { beforeMs }),
      }).map(batchOf),
    replaceBatches: (fromMs: number, toMs: number, batches: readonly Batch[]) =>
      inTransaction(database, () => {
        for (const drum of new Set(batches.map((batch) => batch.drum))) remove.run(drum, fromMs, toMs);
        for (const batch of batches) write(batch);
      }),
  };
}
