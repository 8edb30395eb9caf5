import type { DatabaseSync } from "node:sqlite";
import type { RecordKind } from "./define-record.ts";
import { lastOfEach } from "./newest-of-each.ts";
import { replacerOf, replacingAll } from "./replace-standing.ts";

/** Something that is told of a drum, again and again. */
interface OfDrum {
  readonly kind: string;
  readonly drum: string;
  readonly atMs: number;
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
  const between = database.prepare(
    `SELECT ${whole} FROM ${table} WHERE at >= ? AND at < ? ORDER BY at, drum`,
  );
  const replaceOf = replacerOf<Told>(database, record, {
    table,
    whole,
    key: "at",
    keyOf: ({ atMs }) => atMs,
    where: "drum = :drum AND at >= :from AND at < :to",
  });
  return {
    /** Those of [fromMs, toMs), by time. */
    between: (fromMs: number, toMs: number): readonly Told[] => between.all(fromMs, toMs).map(record.view),
    /** The last of each drum from before a time. */
    last: (beforeMs?: number): readonly Told[] =>
      lastOfEach(database, { table, group: "drum", order: "at", time: "at", column: whole, beforeMs }).map(
        record.view,
      ),
    /** Puts others in the place of those of [fromMs, toMs), of the drums of which there are others. */
    replacing: (fromMs: number, toMs: number, records: readonly Told[]) =>
      replacingAll(
        [...Map.groupBy(records, (one) => one.drum)].map(([drum, of]) =>
          replaceOf({ fromMs, toMs, more: { drum } }, of),
        ),
      ),
  };
}
