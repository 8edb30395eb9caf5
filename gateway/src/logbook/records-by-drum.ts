import type { DatabaseSync } from "node:sqlite";
import { inTransaction } from "../database/index.ts";
import type { RecordKind } from "./define-record.ts";
import { lastOfEach } from "./newest-of-each.ts";

/** Something that is told of a drum, again and again. */
interface OfDrum {
  readonly kind: string;
  readonly drum: string;
}

/** A table whose rows are known by `drum` and `at`, and the column that holds the whole record. */
interface DrumTable<Told extends OfDrum> {
  readonly record: RecordKind<Told, Told>;
  readonly table: string;
  readonly whole: string;
}

/** What is asked of such records, and their change by a derivation. */
export function recordsByDrum<Told extends OfDrum>(
  database: DatabaseSync,
  { record, table, whole }: DrumTable<Told>,
) {
  const { write } = record.writer(database);
  const between = database.prepare(
    `SELECT ${whole} FROM ${table} WHERE at >= ? AND at < ? ORDER BY at, drum`,
  );
  const remove = database.prepare(`DELETE FROM ${table} WHERE drum = ? AND at >= ? AND at < ?`);
  return {
    /** Those of [fromMs, toMs), by time. */
    between: (fromMs: number, toMs: number): readonly Told[] => between.all(fromMs, toMs).map(record.view),
    /** The last of each drum from before a time. */
    last: (beforeMs?: number): readonly Told[] =>
      lastOfEach(database, { table, group: "drum", order: "at", time: "at", column: whole, beforeMs }).map(
        record.view,
      ),
    /** Puts others in the place of those of [fromMs, toMs), of the drums of which there are others. */
    replace: (fromMs: number, toMs: number, records: readonly Told[]) =>
      inTransaction(database, () => {
        for (const drum of new Set(records.map((one) => one.drum))) remove.run(drum, fromMs, toMs);
        for (const one of records) write(one);
      }),
  };
}
