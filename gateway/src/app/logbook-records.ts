import { type Act, whyUnread } from "../acts/index.ts";
import type { Logbook } from "../logbook/index.ts";
import type { Records } from "../path/index.ts";
import type { Calendar } from "./calendar.ts";
import {
  actInEngineTime,
  batchTurned,
  changeTurned,
  fillTurned,
  proofTurned,
  waterTurned,
  workTurned,
} from "./in-calendar.ts";

/** What is asked of a logbook for it. */
export type RecordsBook = Pick<
  Logbook,
  | "lastLine"
  | "lastWords"
  | "lastBatches"
  | "lastProofs"
  | "lastPresences"
  | "lastFills"
  | "lastWorks"
  | "calibrations"
  | "actsOf"
>;

const ofAct = "act ";
const lostWords = "lost-words";

/**
 * The logbook's records as stages ask for them, their times as engine time. `beforeMs` (calendar time): what stood then;
 * left out: what stands now.
 */
export function recordsOf(logbook: RecordsBook, calendar: Calendar, beforeMs?: number): Records {
  const { engineOf } = calendar;
  const last: Readonly<Record<string, () => readonly unknown[]>> = {
    line: () => {
      const yaml = logbook.lastLine(beforeMs);
      return yaml === null ? [] : [{ yaml }];
    },
    batch: () => logbook.lastBatches(beforeMs).map((batch) => batchTurned(batch, engineOf)),
    "drum-water": () => logbook.lastWords(beforeMs).map((water) => waterTurned(water, engineOf)),
    proof: () => logbook.lastProofs(beforeMs).map((proof) => proofTurned(proof, engineOf)),
    presence: () =>
      logbook.lastPresences(beforeMs).map((presence) => ({ ...presence, atMs: engineOf(presence.atMs) })),
  };
  const list: Readonly<Record<string, (perKey: number) => readonly unknown[]>> = {
    // Every calibration, whenever it was entered: each is in force from its own time on.
    calibration: () => logbook.calibrations().map((act) => actInEngineTime(act, calendar)),
    work: (perKey) => logbook.lastWorks(perKey, beforeMs).map((work) => workTurned(work, engineOf)),
    fill: (perKey) => logbook.lastFills(perKey, beforeMs).map((fill) => fillTurned(fill, engineOf)),
  };
  const acts = (type: Act["type"], perKey: number) =>
    logbook
      .actsOf(type, perKey, undefined, beforeMs)
      .filter(({ act }) => whyUnread(act) === null)
      .map(({ atMs, act }) => ({ atMs: engineOf(atMs), act: actInEngineTime(act, calendar) }))
      .reverse();
  return {
    last: (kind) => last[kind]?.() ?? [],
    list: (kind, perKey) =>
      kind.startsWith(ofAct)
        ? acts(kind.slice(ofAct.length) as Act["type"], perKey)
        : (list[kind]?.(perKey) ?? []),
  };
}

/**
 * What stages may begin with where their own state is gone: what stands in the logbook now. `areWordsLost`: not all of it may be
 * there.
 */
export function logbookRecords(
  logbook: RecordsBook & Pick<Logbook, "lastAlarms">,
  calendar: Calendar,
  areWordsLost = false,
): Records {
  const { last, list } = recordsOf(logbook, calendar);
  return {
    last(kind) {
      if (kind === "alarm")
        return logbook.lastAlarms().map((change) => changeTurned(change, calendar.engineOf));
      if (kind === lostWords) return areWordsLost ? [true] : [];
      return kind === "clock-offset" ? [calendar.offsetMs()] : last(kind);
    },
    list,
  };
}
