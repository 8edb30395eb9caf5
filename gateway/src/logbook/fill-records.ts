import type { DatabaseSync } from "node:sqlite";
import type { Fill } from "../fills/index.ts";
import { defineRecord, jsonOf, type Row } from "./define-record.ts";
import { groupsOf } from "./newest-of-each.ts";

/**
 * Fills asked for, newest first, of one drum or of all; that began before `beforeMs` and at or after `fromMs`. With
 * `beforeId` also those that began in that very millisecond and come after this one in the list.
 */
export interface FillsAsked {
  readonly limit: number;
  readonly drum?: string;
  readonly beforeMs?: number;
  readonly beforeId?: string;
  readonly fromMs?: number;
}

const fillOf = (row: Row) => jsonOf<Fill>(row, "fill");

/** Fills, for ever. */
export const fillRecord = defineRecord<Fill, Fill>({
  kind: "fill",
  table: "fill",
  key: ["id"],
  columns: {
    id: ({ id }) => id,
    drum: ({ drum }) => drum,
    started: ({ startedAtMs }) => startedAtMs,
    fill: (fill) => JSON.stringify(fill),
  },
  // The same fill is told at its begin, its turns and its end: the last word stands. An entry that is run again after a
  // crash tells revision 0 once more, and must not take back what was derived since.
  again: {
    lastStandsIf: "json_extract(excluded.fill, '$.revision') >= json_extract(fill.fill, '$.revision')",
  },
  order: "started",
  view: fillOf,
  schema: {
    2: `CREATE TABLE IF NOT EXISTS fill (id TEXT PRIMARY KEY, drum TEXT NOT NULL, started INTEGER NOT NULL, fill TEXT NOT NULL);
        CREATE INDEX IF NOT EXISTS fill_started ON fill (started);`,
    4: "CREATE INDEX fill_drum ON fill (drum, started);",
  },
});

/** What is asked of fills. */
export function fillsOf(database: DatabaseSync) {
  const asked = (where: string) =>
    database.prepare(
      `SELECT fill FROM fill WHERE ${where} started <= :before AND (started < :before OR id < :id) AND started >= :from ORDER BY started DESC, id DESC LIMIT :limit`,
    );
  const ofAll = asked("");
  const ofDrum = asked("drum = :drum AND");
  const one = database.prepare("SELECT fill FROM fill WHERE id = ?");
  const fills = ({
    limit,
    drum,
    beforeMs = Number.MAX_SAFE_INTEGER,
    beforeId = "",
    fromMs = 0,
  }: FillsAsked) => {
    const range = { before: beforeMs, id: beforeId, from: fromMs, limit };
    return (drum === undefined ? ofAll.all(range) : ofDrum.all({ ...range, drum })).map(fillOf);
  };
  return {
    fills,
    fill: (id: string) => {
      const row = one.get(id);
      return row ? fillOf(row) : null;
    },
    lastFills: (perDrum: number, beforeMs?: number) => {
      const limit = Math.min(perDrum, Number.MAX_SAFE_INTEGER);
      const before = beforeMs === undefined ? {} : { beforeMs };
      return groupsOf(database, "fill", "drum")
        .flatMap((drum) => fills({ limit, drum, ...before }))
        .sort((a, b) => a.startedAtMs - b.startedAtMs);
    },
  };
}
