import type { DatabaseSync } from "node:sqlite";
import type { DrumWater } from "../fills/index.ts";
import { defineWholeRecord } from "./define-record.ts";
import { recordsByDrum } from "./records-by-drum.ts";

/** Each word on each drum's water, for ever. */
export const drumWordRecord = defineWholeRecord<DrumWater>({
  kind: "drum-water",
  table: "drum_water",
  key: ["drum", "at"],
  columns: { drum: ({ drum }) => drum, at: ({ atMs }) => atMs },
  whole: "water",
  schema: {
    2: "CREATE TABLE IF NOT EXISTS drum_water (drum TEXT NOT NULL, at INTEGER NOT NULL, water TEXT NOT NULL, PRIMARY KEY (drum, at));",
    6: "CREATE INDEX drum_water_at ON drum_water (at);",
  },
});

/** What is asked of the words on drums, and their change by a derivation. */
export function drumWordsOf(database: DatabaseSync) {
  const words = recordsByDrum(database, { record: drumWordRecord, table: "drum_water", whole: "water" });
  return { wordsIn: words.between, lastWords: words.last, replacingWords: words.replacing };
}
