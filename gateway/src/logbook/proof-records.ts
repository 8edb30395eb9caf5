import type { DatabaseSync } from "node:sqlite";
import type { Proof } from "../measurements/index.ts";
import { defineWholeRecord } from "./define-record.ts";
import { lastOfEach } from "./newest-of-each.ts";

/** Tests of floats, for ever; one that a person confirmed later stands as it was confirmed. */
export const proofRecord = defineWholeRecord<Proof>({
  kind: "proof",
  table: "proof",
  key: ["id"],
  columns: { id: ({ id }) => id, float: ({ float }) => float, ended: ({ endedAtMs }) => endedAtMs },
  whole: "proof",
  schema: {
    7: `CREATE TABLE proof (id TEXT PRIMARY KEY, float TEXT NOT NULL, ended INTEGER NOT NULL, proof TEXT NOT NULL);
        CREATE INDEX proof_float ON proof (float, ended);`,
  },
});

/** What is asked of tests of floats. */
export function proofsOf(database: DatabaseSync) {
  return {
    proofs: (limit: number, before?: number) => proofRecord.page(database, limit, before),
    lastProofs: (beforeMs?: number) =>
      lastOfEach(database, {
        table: "proof",
        group: "float",
        order: "ended",
        time: "ended",
        column: "proof",
        beforeMs,
      }).map(proofRecord.view),
  };
}
