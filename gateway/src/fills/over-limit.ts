/** Settled time over the limit after which the water that came in is bad, and readings in it; a gross value is bad sooner. */
const overMs = 60_000;
const overReadings = 3;
const grossMs = 15_000;
const grossTimes = 10;
/** Longest time that one reading stands for. */
const longestStepMs = 90_000;

/** Time over the limit in one run of water. Plain JSON. */
export interface OverLimit {
  settledMs: number;
  readings: number;
  grossMs: number;
  lastMs: number | null;
  lastGross: boolean;
}

/** Nothing over the limit yet. */
export function notOver(): OverLimit {
  return { settledMs: 0, readings: 0, grossMs: 0, lastMs: null, lastGross: false };
}

/** Takes one reading of flowing water; true once the water counts as over its limit. */
export function isOver(
  over: OverLimit,
  kappa25: number,
  limit: number,
  settled: boolean,
  tMs: number,
): boolean {
  const stepMs = over.lastMs === null ? 0 : Math.min(Math.max(0, tMs - over.lastMs), longestStepMs);
  over.lastMs = tMs;
  const gross = kappa25 > grossTimes * limit;
  over.grossMs = gross ? over.grossMs + (over.lastGross ? stepMs : 0) : 0;
  over.lastGross = gross;
  if (settled) {
    if (kappa25 > limit) {
      over.settledMs += over.readings > 0 ? stepMs : 0;
      over.readings += 1;
    } else {
      over.settledMs = 0;
      over.readings = 0;
    }
  }
  return over.grossMs >= grossMs || (over.readings >= overReadings && over.settledMs >= overMs);
}
