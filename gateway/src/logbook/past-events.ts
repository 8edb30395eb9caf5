import type { DatabaseSync } from "node:sqlite";
import { type Act, readAct, whyUnread } from "../acts/index.ts";
import { actFromMs } from "./act-records.ts";

/** Something of the past that the path hears again when it is run over stored readings. */
export interface PastEvent {
  readonly kind: "act" | "line" | "start" | "presence";
  readonly seq: number;
  /** When it counts from: an act's `validFromMs` where it has one, else when it came. */
  readonly atMs: number;
  /** The act, the line's text, or the presence. */
  readonly what: unknown;
}

function whatOf(kind: PastEvent["kind"], what: string | null): unknown {
  if (kind === "line" || what === null) return what;
  const said: unknown = JSON.parse(what);
  return kind === "act" ? readAct(said) : said;
}

/** What happened in a stretch of time; each part is found by its index of times. */
export function pastEventsOf(database: DatabaseSync) {
  const between = (time: string) => `${time} >= :from AND ${time} < :to`;
  const events = database.prepare(
    `SELECT 'act' AS kind, CAST(id AS INTEGER) AS seq, ${actFromMs} AS from_at, act AS what FROM act WHERE refused IS NULL AND ${between(actFromMs)}
     UNION ALL SELECT 'line', seq, at, yaml FROM line WHERE ${between("at")}
     UNION ALL SELECT 'start', seq, at, NULL FROM start WHERE ${between("at")}
     UNION ALL SELECT 'presence', seq, at, presence FROM presence WHERE ${between("at")}
     ORDER BY from_at, seq`,
  );
  return {
    pastEvents: (fromMs: number, toMs: number): readonly PastEvent[] =>
      events
        .all({ from: fromMs, to: toMs })
        .map(({ kind, seq, from_at: atMs, what }) => ({
          kind: kind as PastEvent["kind"],
          seq: seq as number,
          atMs: atMs as number,
          what: whatOf(kind as PastEvent["kind"], what as string | null),
        }))
        // Acts that another version took and this one can't read are passed over, as the live path does.
        .filter(({ kind, what }) => kind !== "act" || whyUnread(what as Act) === null),
  };
}
