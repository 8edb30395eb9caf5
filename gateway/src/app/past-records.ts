import type { Act } from "../acts/index.ts";
import type { Logbook, PastEvent } from "../logbook/index.ts";
import type { PathEntry, Records } from "../path/index.ts";
import type { NodePresence } from "../readings/index.ts";
import type { Calendar } from "./calendar.ts";
import type { PastPresence, PastRecords } from "./history.ts";
import { actInEngineTime, batchTurned, fillTurned, proofTurned, waterTurned } from "./in-calendar.ts";

type Book = Pick<
  Logbook,
  | "lastLine"
  | "lastPresences"
  | "lastWords"
  | "lastFills"
  | "calibrations"
  | "pastEvents"
  | "lastProofs"
  | "lastBatches"
>;

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
export function pastRecords(logbook: Book, calendar: Calendar): PastRecords {
  const { engineOf } = calendar;
  return {
    between: (fromMs, toMs) =>
      logbook.pastEvents(calendar.at(fromMs), calendar.at(toMs)).map((event) => entryOf(event, calendar)),
    before(ms): Records {
      const atMs = calendar.at(ms);
      const last: Readonly<Record<string, () => readonly unknown[]>> = {
        line: () => {
          const yaml = logbook.lastLine(atMs);
          return yaml === null ? [] : [{ yaml }];
        },
        presence: () => logbook.lastPresences(atMs),
        proof: () => logbook.lastProofs(atMs).map((proof) => proofTurned(proof, engineOf)),
        batch: () => logbook.lastBatches(atMs).map((batch) => batchTurned(batch, engineOf)),
        "drum-water": () => logbook.lastWords(atMs).map((word) => waterTurned(word, engineOf)),
      };
      const list: Readonly<Record<string, (perKey: number) => readonly unknown[]>> = {
        // Every calibration, whenever it was entered: each is in force from its own time on.
        calibration: () => logbook.calibrations().map((act) => actInEngineTime(act, calendar)),
        fill: (perKey) => logbook.lastFills(perKey, atMs).map((fill) => fillTurned(fill, engineOf)),
      };
      return {
        last: (kind) => last[kind]?.() ?? [],
        list: (kind, perKey) => list[kind]?.(perKey) ?? [],
      };
    },
  };
}
