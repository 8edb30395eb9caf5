import type { Act } from "../acts/index.ts";
import type { Logbook, PastEvent } from "../logbook/index.ts";
import type { PathEntry, Records } from "../path/index.ts";
import type { NodePresence } from "../readings/index.ts";
import type { Calendar } from "./calendar.ts";
import type { PastPresence, PastRecords } from "./history.ts";
import { actInEngineTime } from "./in-calendar.ts";
import { type RecordsBook, recordsOf } from "./logbook-records.ts";

/** What is asked of a logbook for it. */
export type PastBook = RecordsBook & Pick<Logbook, "pastEvents">;

function entryOf({ kind, seq, atMs, what }: PastEvent, calendar: Calendar): PathEntry | PastPresence {
  const mark = { seq, receivedAt: calendar.engineOf(atMs) };
  switch (kind) {
    case "act": {
      const act = actInEngineTime(what as Act, calendar);
      if (act.type !== "calibration") return { ...mark, kind, act };
      return { ...mark, kind, act: { ...act, validFromMs: mark.receivedAt } };
    }
    case "line":
      return { ...mark, kind, yaml: what as string };
    case "start":
      return { ...mark, kind };
    case "presence":
      return { ...(what as NodePresence), ...mark, kind };
  }
}

/** The logbook as history asks it: what stood at a time, and what happened from then on; in engine time. */
export function pastRecords(logbook: PastBook, calendar: Calendar): PastRecords {
  return {
    between: (fromMs, toMs) =>
      logbook.pastEvents(calendar.at(fromMs), calendar.at(toMs)).map((event) => entryOf(event, calendar)),
    before: (ms): Records => recordsOf(logbook, calendar, calendar.at(ms)),
  };
}
