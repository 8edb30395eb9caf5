import type { DatabaseSync } from "node:sqlite";
import type { Rejection } from "../readings/index.ts";
import { defineRecord, jsonOf, type RecordWriter, type Row } from "./define-record.ts";

/** Examples kept of each code and node. */
const maxExamples = 20;

/** One kind of rejection of one node, with its latest examples. */
export interface RejectionCount {
  readonly code: string;
  readonly node: string | null;
  readonly count: number;
  readonly lastAtMs: number;
  readonly examples: readonly {
    readonly atMs: number;
    readonly topic: string;
    readonly detail: string;
    readonly example: string;
  }[];
}

/** A count as it stands in a row. */
export const countOf = (row: Row): RejectionCount => ({
  code: row.code as string,
  node: (row.node as string) || null,
  count: row.count as number,
  lastAtMs: row.last_at as number,
  examples: jsonOf(row, "examples"),
});

/** Adds one to what is known of its code and node; one that was counted already, by an entry that is run again, is not. */
function counts(database: DatabaseSync): RecordWriter<Rejection> {
  const find = database.prepare(
    "SELECT count, last_seq, last_record, examples FROM rejection WHERE code = ? AND node = ?",
  );
  const put = database.prepare(
    "INSERT OR REPLACE INTO rejection (code, node, count, last_seq, last_record, last_at, examples) VALUES (?, ?, ?, ?, ?, ?, ?)",
  );
  return {
    write({ code, node, seq, atMs, topic, detail, example, record }) {
      const known = find.get(code, node ?? "");
      const place = record ?? -1;
      const lastSeq = (known?.last_seq ?? -1) as number;
      if (known && (seq < lastSeq || (seq === lastSeq && place <= (known.last_record as number)))) return;
      const examples = [
        { atMs, topic, detail, example },
        ...(known ? jsonOf<RejectionCount["examples"]>(known, "examples") : []),
      ].slice(0, maxExamples);
      const count = ((known?.count ?? 0) as number) + 1;
      put.run(code, node ?? "", count, seq, place, atMs, JSON.stringify(examples));
    },
  };
}

/** What was refused of nodes: counts for ever, the latest examples. */
export const rejectionRecord = defineRecord<Rejection, RejectionCount>({
  kind: "rejection",
  table: "rejection",
  key: ["code", "node"],
  columns: { code: ({ code }) => code, node: ({ node }) => node ?? "" },
  again: "first-stands",
  order: "last_at",
  view: countOf,
  schema: {
    2: "CREATE TABLE IF NOT EXISTS rejection (code TEXT NOT NULL, node TEXT NOT NULL, count INTEGER NOT NULL, last_seq INTEGER NOT NULL, last_record INTEGER NOT NULL, last_at INTEGER NOT NULL, examples TEXT NOT NULL, PRIMARY KEY (code, node));",
  },
  writes: counts,
});

/** What is asked of rejections. */
export function rejectionsOf(database: DatabaseSync) {
  return {
    rejections: () => rejectionRecord.page(database, Number.MAX_SAFE_INTEGER).map(({ record }) => record),
  };
}
