import type { DatabaseSync } from "node:sqlite";
import { type Act, type Calibration, readAct, whyUnread } from "../acts/index.ts";
import type { AlarmChange } from "../alarms/index.ts";
import { defineRecord, jsonOf, type Row } from "./define-record.ts";

/** An act was run: taken, or refused. */
export interface ActDone {
  readonly kind: "act-done";
  readonly id: string;
  readonly act: Act;
  readonly atMs: number;
  readonly refused: { readonly code: string } | null;
}

/** An act as it was written down, with the changes of alarms that it made. */
export interface ActRecord {
  /** Its place in the logbook: later acts have greater ones. */
  readonly place: number;
  readonly atMs: number;
  readonly act: Act;
  /** Code of the refusal; null when it was taken. */
  readonly refused: string | null;
  readonly changes: readonly { readonly key: string; readonly from: string; readonly to: string }[];
}

const actOf = (row: Row) => readAct(jsonOf(row, "act"));

/** When an act counts from: indexed, since history asks for acts by it. */
export const actFromMs = "coalesce(json_extract(act, '$.validFromMs'), at)";

/** Acts, taken and refused, for ever. */
export const actRecord = defineRecord<ActDone, Omit<ActRecord, "place" | "changes"> & { id: string }>({
  kind: "act-done",
  table: "act",
  key: ["id"],
  columns: {
    id: ({ id }) => id,
    at: ({ atMs }) => atMs,
    type: ({ act }) => act.type,
    refused: ({ refused }) => refused?.code ?? null,
    act: ({ act }) => JSON.stringify(act),
  },
  again: "first-stands",
  order: "rowid",
  view: (row) => ({
    id: row.id as string,
    atMs: row.at as number,
    act: actOf(row),
    refused: row.refused as string | null,
  }),
  schema: {
    2: "CREATE TABLE IF NOT EXISTS act (id TEXT PRIMARY KEY, at INTEGER NOT NULL, type TEXT NOT NULL, refused TEXT, act TEXT NOT NULL);",
    4: `CREATE INDEX act_taken ON act (type) WHERE refused IS NULL;
        CREATE INDEX act_from ON act (${actFromMs}) WHERE refused IS NULL;`,
    6: "CREATE INDEX act_at ON act (at);",
  },
});

/** What is asked of acts. */
export function actsOf(database: DatabaseSync) {
  const changesOfSeq = database.prepare("SELECT change FROM alarm WHERE seq = ? ORDER BY place");
  const ofType = database.prepare(
    "SELECT rowid AS place, at, act FROM act WHERE type = ? AND refused IS NULL AND rowid < ? AND at < ? ORDER BY rowid DESC LIMIT ?",
  );
  const between = database.prepare(
    "SELECT at, act FROM act WHERE at >= ? AND at < ? AND refused IS NULL ORDER BY at, rowid",
  );
  const calibrations = database.prepare(
    "SELECT at, act FROM act WHERE type = 'calibration' AND refused IS NULL ORDER BY at, rowid",
  );
  const changesOf = (id: string, act: Act) =>
    changesOfSeq
      .all(Number.parseInt(id, 10))
      .map((row) => jsonOf<AlarmChange>(row, "change"))
      // Deadlines that fell before the entry changed alarms too: those are not the act's.
      .filter(({ by, alarm }) => by === act.by && "key" in act && alarm.key === act.key)
      .map(({ from, to, alarm }) => ({ key: alarm.key, from, to }));
  return {
    acts: (limit: number, before?: number): readonly ActRecord[] =>
      actRecord.page(database, limit, before).map(({ place, record: { id, ...record } }) => ({
        place,
        ...record,
        changes: changesOf(id, record.act),
      })),
    actsOf: (
      type: Act["type"],
      limit: number,
      before: number = Number.MAX_SAFE_INTEGER,
      beforeMs: number = Number.MAX_SAFE_INTEGER,
    ): readonly ActRecord[] =>
      ofType.all(type, before, beforeMs, limit).map((row) => ({
        place: row.place as number,
        atMs: row.at as number,
        act: actOf(row),
        refused: null,
        changes: [],
      })),
    actsIn: (fromMs: number, toMs: number) =>
      between
        .all(fromMs, toMs)
        .map((row) => ({ atMs: row.at as number, act: actOf(row) }))
        .filter(({ act }) => whyUnread(act) === null),
    calibrations: (): readonly Calibration[] =>
      calibrations
        .all()
        .map((row) => ({ validFromMs: row.at as number, ...(actOf(row) as Calibration) }))
        .filter((act) => whyUnread(act) === null),
  };
}
