import type { DatabaseSync } from "node:sqlite";
import type { NodePresence } from "../readings/index.ts";
import { defineRecord, jsonOf, type Row } from "./define-record.ts";
import { lastOfEach } from "./newest-of-each.ts";

const presenceOf = (row: Row) => jsonOf<NodePresence>(row, "presence");
const said = ({ kind: _, seq: __, atMs: ___, ...rest }: NodePresence) => JSON.stringify(rest);

/** What nodes said of themselves: only changes, since a node says the same at each connection. */
export const presenceRecord = defineRecord<NodePresence, NodePresence>({
  kind: "presence",
  table: "presence",
  key: ["node", "seq"],
  columns: {
    node: ({ node }) => node,
    seq: ({ seq }) => seq,
    at: ({ atMs }) => atMs,
    presence: (presence) => JSON.stringify(presence),
  },
  again: "first-stands",
  order: "seq",
  view: presenceOf,
  schema: {
    3: "CREATE TABLE IF NOT EXISTS presence (node TEXT NOT NULL, seq INTEGER NOT NULL, at INTEGER NOT NULL, presence TEXT NOT NULL, PRIMARY KEY (node, seq)) WITHOUT ROWID;",
    4: "CREATE INDEX presence_at ON presence (at);",
  },
  writes: (database, put) => {
    const last = database.prepare("SELECT presence FROM presence WHERE node = ? ORDER BY seq DESC LIMIT 1");
    return {
      write(presence) {
        const known = last.get(presence.node);
        if (!known || said(presenceOf(known)) !== said(presence)) put.write(presence);
      },
    };
  },
});

/** What is asked of presences. */
export function presencesOf(database: DatabaseSync) {
  return {
    lastPresences: (beforeMs?: number) =>
      lastOfEach(database, {
        table: "presence",
        group: "node",
        order: "seq",
        time: "at",
        column: "presence",
        ...(beforeMs === undefined ? {} : { beforeMs }),
      }).map(presenceOf),
  };
}
