import type { DatabaseSync } from "node:sqlite";
import { inTransaction } from "../database/index.ts";
import type { DrumWater } from "../fills/index.ts";
import { defineRecord, jsonOf, lastOfEach, type Row } from "./define-record.ts";

const wordOf = (row: Row) => jsonOf<DrumWater>(row, "water");

/** Each word on each drum's water, for ever. */
export const drumWordRecord = defineRecord<DrumWater, DrumWater>({
  kind: "drum-water",
  table: "drum_water",
  key: ["drum", "at"],
  columns: {
    drum: ({ drum }) => drum,
    at: ({ atMs }) => atMs,
    water: (water) => JSON.stringify(water),
  },
  again: "last-stands",
  order: "rowid",
  view: wordOf,
  schema: {
    2: "CREATE TABLE IF NOT EXISTS drum_water (drum TEXT NOT NULL, at INTEGER NOT NULL, water TEXT NOT NULL, PRIMARY KEY (drum, at));",
    6: "CREATE INDEX drum_water_at ON drum_water (at);",
  },
});

/** What is asked of the words on drums, and their change by a derivation. */
export function drumWordsOf(database: DatabaseSync) {
  const { write } = drumWordRecord.writer(database);
  const between = database.prepare("SELECT water FROM drum_water WHERE at >= ? AND at < ? ORDER BY at, drum");
  const remove = database.prepare("DELETE FROM drum_water WHERE drum = ? AND at >= ? AND at < ?");
  return {
    wordsIn: (fromMs: number, toMs: number) => between.all(fromMs, toMs).map(wordOf),
    lastWords: (beforeMs?: number) =>
      lastOfEach(database, {
        table: "drum_water",
        group: "drum",
        order: "at",
        time: "at",
        column: "water",
        ...(beforeMs === undefined ? {} : { beforeMs }),
      }).map(wordOf),
    replaceWords: (fromMs: number, toMs: number, words: readonly DrumWater[]) =>
      inTransaction(database, () => {
        for (const drum of new Set(words.map((word) => word.drum))) remove.run(drum, fromMs, toMs);
        for (const word of words) write(word);
      }),
  };
}
