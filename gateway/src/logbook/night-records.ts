import type { DatabaseSync } from "node:sqlite";
import type { NightOver } from "../nights/index.ts";
import { defineRecord } from "./define-record.ts";

/** Nights that are over, with their hours, for ever. */
export const nightRecord = defineRecord<NightOver, NightOver>({
  kind: "night",
  table: "night",
  key: ["date"],
  columns: {
    date: ({ date }) => date,
    timezone: ({ timezone }) => timezone,
    began: ({ fromMs }) => fromMs,
    ended: ({ toMs }) => toMs,
  },
  again: "first-stands",
  order: "began",
  view: ({ date, timezone, began, ended }) => ({
    kind: "night",
    date: date as string,
    timezone: timezone as string,
    fromMs: began as number,
    toMs: ended as number,
  }),
  schema: {
    6: `CREATE TABLE night (date TEXT PRIMARY KEY, timezone TEXT NOT NULL, began INTEGER NOT NULL, ended INTEGER NOT NULL);
        CREATE INDEX night_began ON night (began);`,
  },
});

/** What is asked of nights. */
export function nightsOf(database: DatabaseSync) {
  const one = database.prepare("SELECT * FROM night WHERE date = ?");
  return {
    night: (date: string): NightOver | null => {
      const row = one.get(date);
      return row
        ? {
            kind: "night",
            date,
            timezone: row.timezone as string,
            fromMs: row.began as number,
            toMs: row.ended as number,
          }
        : null;
    },
    nights: (limit: number, beforeMs?: number): readonly NightOver[] =>
      nightRecord.page(database, limit, beforeMs).map(({ record }) => record),
  };
}
