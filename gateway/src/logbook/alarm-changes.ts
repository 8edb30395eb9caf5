import type { DatabaseSync } from "node:sqlite";
import type { AlarmChange } from "../alarms/index.ts";
import { defineRecord, jsonOf, type Row } from "./define-record.ts";
import { lastOfEach } from "./newest-of-each.ts";

const changeOf = (row: Row) => jsonOf<AlarmChange>(row, "change");

/** Each change of each alarm, for ever. */
export const alarmRecord = defineRecord<AlarmChange, AlarmChange>({
  kind: "alarm",
  table: "alarm",
  key: ["id"],
  columns: {
    id: ({ id }) => id,
    seq: ({ id }) => Number.parseInt(id, 10),
    at: ({ atMs }) => atMs,
    key: ({ alarm }) => alarm.key,
    change: (change) => JSON.stringify(change),
  },
  again: "first-stands",
  order: "place",
  view: changeOf,
  schema: {
    2: `CREATE TABLE IF NOT EXISTS alarm (place INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, seq INTEGER NOT NULL, at INTEGER NOT NULL, key TEXT NOT NULL, change TEXT NOT NULL);
        CREATE INDEX IF NOT EXISTS alarm_seq ON alarm (seq);`,
    4: "CREATE INDEX alarm_key ON alarm (key, place);",
    6: "CREATE INDEX alarm_at ON alarm (at); CREATE INDEX alarm_key_at ON alarm (key, at, place);",
  },
});

/** What is asked of changes of alarms. */
export function alarmChangesOf(database: DatabaseSync) {
  // Seqs and places rise together: the index gives the order.
  const after = database.prepare("SELECT change FROM alarm WHERE seq > ? ORDER BY seq, place LIMIT ?");
  const between = database.prepare("SELECT change FROM alarm WHERE at >= ? AND at < ? ORDER BY at, place");
  const newest = database.prepare("SELECT max(seq) AS seq FROM alarm");
  return {
    alarmChangesIn: (fromMs: number, toMs: number) => between.all(fromMs, toMs).map(changeOf),
    alarmsStoodAt: (ms: number) =>
      lastOfEach(database, {
        table: "alarm",
        group: "key",
        order: "at",
        time: "at",
        column: "change",
        beforeMs: ms,
      })
        .map(changeOf)
        .filter(({ to }) => to !== "normal"),
    alarmChanges: (limit: number, before?: number) =>
      alarmRecord.page(database, limit, before).map(({ place, record }) => ({ place, change: record })),
    alarmChangesAfter: (seq: number, limit: number) => after.all(seq, limit).map(changeOf),
    lastAlarmSeq: (): number => (newest.get()?.seq as number | null) ?? 0,
    lastAlarms: () =>
      lastOfEach(database, {
        table: "alarm",
        group: "key",
        order: "place",
        time: "at",
        column: "change",
      }).map(changeOf),
  };
}
