import type { DatabaseSync } from "node:sqlite";
import type { Batch } from "../fills/index.ts";
import { defineWholeRecord } from "./define-record.ts";
import { recordsByDrum } from "./records-by-drum.ts";

/** Each turn of each batch of salt water, for ever. */
export const batchRecord = defineWholeRecord<Batch>({
  kind: "batch",
  table: "batch",
  key: ["drum", "at"],
  columns: { drum: ({ drum }) => drum, at: ({ atMs }) => atMs },
  whole: "batch",
  schema: {
    8: `CREATE TABLE batch (drum TEXT NOT NULL, at INTEGER NOT NULL, batch TEXT NOT NULL, PRIMARY KEY (drum, at));
        CREATE INDEX batch_at ON batch (at);`,
  },
});

/** What is asked of batches, and their change by a derivation. */
export function batchesOf(database: DatabaseSync) {
  const batches = recordsByDrum(database, { record: batchRecord, table: "batch", whole: "batch" });
  return { batchesIn: batches.between, lastBatches: batches.last, replacingBatches: batches.replacing };
}
