/** Settled time over the limit after which the water that came in is bad, and readings in it; a gross value is bad sooner. */
const overMs = 60_000;
const overReadings = 3;
const grossMs = 15_000;
const grossTimes = 10;
const grossShareOfFeed = 0.5;
/** Good water for so long without a break ends what was counted. */
const clearMs = 60_000;
/** Longest time that one reading stands for. */
const longestStepMs = 90_000;

/** Judged time over a limit, run after run: short top-ups add up. Plain data. */
export interface OverLimit {
  overMs: number;
  underMs: number;
  goodMs: number;
  readings: number;
  grossMs: number;
  lastMs: number | null;
  lastGross: boolean;
  lastJudged: boolean;
}

/** Nothing over the limit yet. */
export function notOver(): OverLimit {
  return {
    overMs: 0,
    underMs: 0,
    goodMs: 0,
    readings: 0,
    grossMs: 0,
    lastMs: null,
    lastGross: false,
    lastJudged: false,
  };
}

/** One reading of flowing water, and what is known round it. */
export interface FlowingReading {
  readonly kappa25: number;
  readonly limit25: number;
  readonly feed25: number | null;
  readonly tMs: number;
  readonly isSettled: boolean;
  /** First water after a standstill of more than 15 min: not even a gross value of it is judged. */
  readonly isFirstWater: boolean;
}

/** So far over its limit that it needs no time to be sure, feed where it is known; uS/cm. */
export function isGrossValue(kappa25: number, limit25: number, feed25: number | null): boolean {
  const half = feed25 === null ? Number.POSITIVE_INFINITY : feed25 * grossShareOfFeed;
  return kappa25 > grossTimes * limit25 || kappa25 > Math.max(half, limit25);
}

function countGross(over: OverLimit, reading: FlowingReading, stepMs: number): void {
  const { kappa25, limit25, feed25, isFirstWater } = reading;
  const isGross = !isFirstWater && isGrossValue(kappa25, limit25, feed25);
  over.grossMs = isGross ? over.grossMs + (over.lastGross ? stepMs : 0) : 0;
  over.lastGross = isGross;
}

/**
 * Takes one reading; true once the water counts as over its limit: 60 s and 3 readings, more over than under (one good
 * reading in eight clears nothing), or 15 s of a gross value.
 */
export function isOver(over: OverLimit, reading: FlowingReading): boolean {
  const { kappa25, limit25, tMs, isSettled } = reading;
  const stepMs = over.lastMs === null ? 0 : Math.min(Math.max(0, tMs - over.lastMs), longestStepMs);
  over.lastMs = tMs;
  countGross(over, reading, stepMs);
  const judgedMs = isSettled && over.lastJudged ? stepMs : 0;
  over.lastJudged = isSettled;
  if (isSettled && kappa25 > limit25) {
    over.overMs += over.readings > 0 ? judgedMs : 0;
    over.readings += 1;
    over.goodMs = 0;
  } else if (isSettled && over.readings > 0) {
    over.underMs += judgedMs;
    over.goodMs += judgedMs;
    if (over.goodMs >= clearMs) Object.assign(over, notOver(), { lastMs: tMs, lastJudged: true });
  }
  const isBad = over.readings >= overReadings && over.overMs >= overMs && over.overMs > over.underMs;
  return isBad || over.grossMs >= grossMs;
}

/** No flowing water is seen now: what was counted stays. */
export function pauseJudging(over: OverLimit): void {
  over.lastJudged = false;
  over.lastGross = false;
  over.grossMs = 0;
}
