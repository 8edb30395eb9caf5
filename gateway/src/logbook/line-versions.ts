import type { DatabaseSync } from "node:sqlite";
import { defineRecord } from "./define-record.ts";

/** A line came into force. */
export interface LineVersion {
  readonly kind: "line";
  readonly seq: number;
  readonly atMs: number;
  readonly yaml: string;
}

/** Each line that was in force, for ever. */
export const lineRecord = defineRecord<LineVersion, LineVersion>({
  kind: "line",
  table: "line",
  key: ["seq"],
  columns: { seq: ({ seq }) => seq, at: ({ atMs }) => atMs, yaml: ({ yaml }) => yaml },
  again: "first-stands",
  order: "seq",
  view: ({ seq, at, yaml }) => ({
    kind: "line",
    seq: seq as number,
    atMs: at as number,
    yaml: yaml as string,
  }),
  schema: {
    2: "CREATE TABLE IF NOT EXISTS line (seq INTEGER PRIMARY KEY, at INTEGER NOT NULL, yaml TEXT NOT NULL);",
    3: "CREATE INDEX IF NOT EXISTS line_at ON line (at);",
  },
});

/** What is asked of lines. */
export function linesOf(database: DatabaseSync) {
  const last = database.prepare("SELECT yaml FROM line WHERE at < ? ORDER BY seq DESC LIMIT 1");
  return {
    lastLine: (beforeMs: number = Number.MAX_SAFE_INTEGER) =>
      (last.get(beforeMs)?.yaml as string | undefined) ?? null,
  };
}
