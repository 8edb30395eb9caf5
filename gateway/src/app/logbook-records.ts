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
} from "./in-calendar.ts";

/** What stages may begin with where their own state is gone: the logbook's records, their times as engine time. */
export function logbookRecords(logbook: Logbook, calendar: Calendar): Records {
  const { engineOf } = calendar;
  const last: Readonly<Record<string, () => readonly unknown[]>> = {
    line: () => {
      const yaml = logbook.lastLine();
      return yaml === null ? [] : [{ yaml }];
    },
    alarm: () => logbook.lastAlarms().map((change) => changeTurned(change, engineOf)),
    batch: () => logbook.lastBatches().map((batch) => batchTurned(batch, engineOf)),
    "drum-water": () => logbook.lastWords().map((water) => waterTurned(water, engineOf)),
    proof: () => logbook.lastProofs().map((proof) => proofTurned(proof, engineOf)),
    "clock-offset": () => [calendar.offsetMs()],
  };
  const list: Readonly<Record<string, (perKey: number) => readonly unknown[]>> = {
    calibration: () => logbook.calibrations().map((act) => actInEngineTime(act, calendar)),
    fill: (perKey) => logbook.lastFills(perKey).map((fill) => fillTurned(fill, engineOf)),
  };
  return {
    last: (kind) => last[kind]?.() ?? [],
    list: (kind, perKey) => list[kind]?.(perKey) ?? [],
  };
}
