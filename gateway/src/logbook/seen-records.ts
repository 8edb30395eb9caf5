import type { DatabaseSync } from "node:sqlite";
import type { Draw, FloatChange, Gap, Seen } from "../nights/index.ts";
import { defineWholeRecord } from "./define-record.ts";
import { replacerOf, replacingAll } from "./replace-standing.ts";

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
  const known = { key: "id", keyOf: ({ id }: Seen) => id };
  // A gap that reaches beyond the stretch is the live path's.
  const replaceGaps = replacerOf<Gap>(database, gapRecord, {
    ...known,
    table: "gap",
    whole: "gap",
    where: "began >= :from AND began < :to AND ended <= :until",
  });
  const within = { ...known, where: "began >= :from AND began < :to" };
  const replaceDraws = replacerOf<Draw>(database, drawRecord, { ...within, table: "draw", whole: "draw" });
  const replaceFloats = replacerOf<FloatChange>(database, floatRecord, {
    ...within,
    table: "float_change",
    whole: "change",
  });
  const gapsIn = (fromMs: number, toMs: number) => gaps.all({ from: fromMs, to: toMs }).map(gapRecord.view);
  return {
    gaps: gapsIn,
    seen: (fromMs: number, toMs: number) => ({
      gaps: gapsIn(fromMs, toMs),
      draws: draws.all(fromMs, toMs).map(drawRecord.view),
      floats: floats.all(fromMs, toMs).map(floatRecord.view),
    }),
    replacingSeen: (fromMs: number, toMs: number, seen: readonly Seen[]) =>
      replacingAll([
        replaceGaps(
          { fromMs, toMs, more: { until: toMs } },
          seen.filter((one) => one.kind === "gap"),
        ),
        replaceDraws(
          { fromMs, toMs },
          seen.filter((one) => one.kind === "draw"),
        ),
        replaceFloats(
          { fromMs, toMs },
          seen.filter((one) => one.kind === "float-change"),
        ),
      ]),
  };
}
