import { readFileSync } from "node:fs";
import { rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Correction } from "./calendar.ts";
import type { SavedClock } from "./clock.ts";

/** What is kept of the clock from one start to the next. */
export interface ClockState {
  readonly saved: SavedClock | null;
  readonly corrections: readonly Correction[];
  /** What was wrong with the file, in words that go on after its name; null when it was read. */
  readonly fault: string | null;
}

const emptied = "was missing or empty";
const faultOf = (error: unknown, text: string | null): string => {
  if (text !== null) return text === "" ? emptied : "was damaged";
  const { code } = error as { readonly code?: string };
  if (code === "ENOENT") return emptied;
  return code === "EACCES" ? "can't be read by this user" : "was damaged";
};

function isCorrection(given: unknown): given is Correction {
  const { fromEngineMs, offsetMs } = (given ?? {}) as Partial<Correction>;
  return Number.isFinite(fromEngineMs) && Number.isFinite(offsetMs);
}

/** What is written of the clock. */
export type KeptClock = Omit<ClockState, "fault">;

/** The clock's file in a data folder. One that is missing or damaged reads as nothing, and says so: the journal knows the steps too. */
export function createClockFile(folder: string) {
  const path = join(folder, "clock.json");
  return {
    load(): ClockState {
      let text: string | null = null;
      try {
        text = readFileSync(path, "utf8");
        const { saved, corrections } = JSON.parse(text) as Partial<ClockState>;
        return {
          fault: null,
          saved: saved && Number.isFinite(saved.engineLessUptimeMs) ? saved : null,
          corrections: Array.isArray(corrections) ? corrections.filter(isCorrection) : [],
        };
      } catch (error) {
        return { saved: null, corrections: [], fault: faultOf(error, text) };
      }
    },
    /** Writes beside, synced, and renames. Rejects when the disk does not take it. One at a time. */
    async save(state: KeptClock): Promise<void> {
      await writeFile(`${path}.new`, JSON.stringify(state), { mode: 0o600, flush: true });
      await rename(`${path}.new`, path);
    },
  };
}
