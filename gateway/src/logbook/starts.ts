import { defineRecord } from "./define-record.ts";

/** The gateway started. */
export interface Start {
  readonly kind: "start";
  readonly seq: number;
  readonly atMs: number;
}

/** Starts of the gateway, for ever. */
export const startRecord = defineRecord<Start, Start>({
  kind: "start",
  table: "start",
  key: ["seq"],
  columns: { seq: ({ seq }) => seq, at: ({ atMs }) => atMs },
  again: "first-stands",
  order: "seq",
  view: ({ seq, at }) => ({ kind: "start", seq: seq as number, atMs: at as number }),
  schema: {
    3: "CREATE TABLE IF NOT EXISTS start (seq INTEGER PRIMARY KEY, at INTEGER NOT NULL);",
    4: "CREATE INDEX start_at ON start (at);",
  },
});
