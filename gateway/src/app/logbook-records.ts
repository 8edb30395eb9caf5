import type { Logbook } from "../logbook/index.ts";
import type { Records } from "../path/index.ts";

/** What stages may begin with where their own state is gone: the logbook's records. */
export function logbookRecords(logbook: Logbook): Records {
  const last: Readonly<Record<string, () => readonly unknown[]>> = {
    line: () => {
      const yaml = logbook.lastLine();
      return yaml === null ? [] : [{ yaml }];
    },
    alarm: () => logbook.lastAlarms(),
    "drum-water": () => logbook.lastWords(),
  };
  const list: Readonly<Record<string, (perKey: number) => readonly unknown[]>> = {
    calibration: () => logbook.calibrations(),
    fill: (perKey) => logbook.lastFills(perKey),
  };
  return {
    last: (kind) => last[kind]?.() ?? [],
    list: (kind, perKey) => list[kind]?.(perKey) ?? [],
  };
}
