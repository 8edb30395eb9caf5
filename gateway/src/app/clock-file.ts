import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Correction } from "./calendar.ts";
import type { SavedClock } from "./clock.ts";

/** What is kept of the clock from one start to the next. */
export interface ClockState {
  readonly saved: SavedClock | null;
  readonly corrections: readonly Correction[];
}

const nothing: ClockState = { saved: null, corrections: [] };

function isCorrection(given: unknown): given is Correction {
  const { fromEngineMs, offsetMs } = (given ?? {}) as Partial<Correction>;
  return Number.isFinite(fromEngineMs) && Number.isFinite(offsetMs);
}

/** The clock's file in a data folder. One that is missing or damaged reads as nothing: the journal knows the steps too. */
export function createClockFile(folder: string) {
  const path = join(folder, "clock.json");
  return {
    load(): ClockState {
      try {
        const { saved, corrections } = JSON.parse(readFileSync(path, "utf8")) as Partial<ClockState>;
        return {
          saved: saved && Number.isFinite(saved.engineLessUptimeMs) ? saved : null,
          corrections: Array.isArray(corrections) ? corrections.filter(isCorrection) : [],
        };
      } catch {
        return nothing;
      }
    },
    /** Writes beside, synced, and renames. Throws when the disk does not take it. */
    save(state: ClockState): void {
      writeFileSync(`${path}.new`, JSON.stringify(state), { mode: 0o600, flush: true });
      renameSync(`${path}.new`, path);
    },
  };
}
