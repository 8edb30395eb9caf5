import type { DatabaseSync } from "node:sqlite";
import { inTransaction } from "../database/index.ts";
import type { Draw, FloatChange, Gap, Seen } from "../nights/index.ts";
import { defineWholeRecord } from "./define-record.ts";

/** What nobody heard, for ever. One that goes on ends "never". */
export const gapRecord = defineWholeRecord<Gap>({
  kind: "gap",
  table: "gap",
  key: ["id"],
  columns: {
    id: ({ id }) => id,
    began: ({ fromMs }) => fromMs,
    ended: ({ toMs }) => toMs ?? Number.MAX_SAFE_INTEGER,
  },
  whole: "gap",
  schema: {
    6: `CREATE TABLE gap (id TEXT PRIMARY KEY, began INTEGER NOT NULL, ended INTEGER NOT NULL, gap TEXT NOT NULL);
        CREATE INDEX gap_began ON gap (began);
        CREATE INDEX gap_ended ON gap (ended);`,
  },
});

/** What was drawn, for ever. */
export const drawRecord = defineWholeRecord<Draw>({
  kind: "draw",
  table: "draw",
  key: ["id"],
  columns: { id: ({ id }) => id, began: ({ fromMs }) => fromMs },
  whole: "draw",
  schema: {
    6: `CREATE TABLE draw (id TEXT PRIMARY KEY, began INTEGER NOT NULL, draw TEXT NOT NULL);
        CREATE INDEX draw_began ON draw (began);`,
  },
});

/** Floats that changed over, for ever. */
export const floatRecord = defineWholeRecord<FloatChange>({
  kind: "float-change",
  table: "float_change",
  key: ["id"],
  columns: { id: ({ id }) => id, began: ({ atMs }) => atMs },
  whole: "change",
  schema: {
    6: `CREATE TABLE float_change (id TEXT PRIMARY KEY, began INTEGER NOT NULL, change TEXT NOT NULL);
        CREATE INDEX float_change_began ON float_change (began);`,
  },
});

/** What is asked of what was seen, and its change by a derivation. */
export function seenOf(database: DatabaseSync) {
  const gaps = database.prepare("SELECT gap FROM gap WHERE began < :to AND ended > :from ORDER BY began, id");
  const draws = database.prepare("SELECT draw FROM draw WHERE began >= ? AND began < ? ORDER BY began, id");
  const floats = database.prepare(
    "SELECT change FROM float_change WHERE began >= ? AND began < ? ORDER BY began, id",
  );
  const kinds = [gapRecord, drawRecord, floatRecord] as const;
  const writers = new Map<string, (seen: Seen) => void>(
    kinds.map((record) => [record.kind, record.writer(database).write as (seen: Seen) => void]),
  );
  const removals = [
    // A gap that reaches beyond the stretch is the live path's.
    "DELETE FROM gap WHERE began >= :from AND began < :to AND ended <= :to",
    "DELETE FROM draw WHERE began >= :from AND began < :to",
    "DELETE FROM float_change WHERE began >= :from AND began < :to",
  ].map((sql) => database.prepare(sql));
  const gapsIn = (fromMs: number, toMs: number) => gaps.all({ from: fromMs, to: toMs }).map(gapRecord.view);
  return {
    gaps: gapsIn,
    seen: (fromMs: number, toMs: number) => ({
      gaps: gapsIn(fromMs, toMs),
      draws: draws.all(fromMs, toMs).map(drawRecord.view),
      floats: floats.all(fromMs, toMs).map(floatRecord.view),
    }),
    replaceSeen: (fromMs: number, toMs: number, seen: readonly Seen[]) =>
      inTransaction(database, () => {
        for (const removal of removals) removal.run({ from: fromMs, to: toMs });
        for (const one of seen) writers.get(one.kind)?.(one);
      }),
  };
}
