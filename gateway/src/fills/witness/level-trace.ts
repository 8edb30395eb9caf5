import { medianInPlace } from "../../statistics/index.ts";

/** Litres of a drum at a time. */
export interface LevelReading {
  readonly tMs: number;
  readonly litres: number;
}

/** A level that left its way and waits for readings that confirm it. */
interface Leap {
  readonly readings: LevelReading[];
}

/**
 * What is remembered of one drum's level. Earlier readings are moved by what was drawn or poured in at once, so that
 * differences of `recent`, `minutes`, `still` and `offsetL` tell inflow alone. Plain data.
 */
export interface LevelTrace {
  /** Readings that are believed, of the last minutes, oldest first. */
  recent: LevelReading[];
  /** Median of each minute of the last two hours. */
  minutes: LevelReading[];
  leap: Leap | null;
  /** It fell by more than a bucket, read exactly 0 or lies where a wet float says that it can't be. */
  lost: { readonly sinceMs: number; readonly wasL: number; readings: LevelReading[] } | null;
  says: "flowing" | "still" | null;
  sinceMs: number;
  /** L/min while it rises. */
  riseLPerMin: number;
  /** Where it last stood still: a median, and its time. */
  still: LevelReading | null;
  /** Standard deviation of one reading, L, by second differences; null while too few were seen. */
  sigmaL: number | null;
  sigmaCount: number;
  /** Mean square of the difference of two medians at standstill, and how many make it. */
  stillSquare: number;
  stillCount: number;
  stillCheckedMs: number;
  /** Smallest step seen, L. */
  stepL: number | null;
  periodMs: number;
  /** Litres drawn and poured in by hand since it was first heard. */
  drawnL: number;
  handL: number;
  /** A fall that is going on. */
  fall: { readonly fromL: number; readonly fromMs: number; leastL: number; leastMs: number } | null;
  heard: boolean;
  lastMs: number | null;
  /** The last believed readings as they came, for rules that go by two in a row. */
  lastL: number | null;
}

/** A level of which nothing was heard. */
export function newLevelTrace(): LevelTrace {
  return {
    recent: [],
    minutes: [],
    leap: null,
    lost: null,
    says: null,
    sinceMs: 0,
    riseLPerMin: 0,
    still: null,
    sigmaL: null,
    sigmaCount: 0,
    stillSquare: 0,
    stillCount: 0,
    stillCheckedMs: 0,
    stepL: null,
    periodMs: 5000,
    drawnL: 0,
    handL: 0,
    fall: null,
    heard: false,
    lastMs: null,
    lastL: null,
  };
}

/** What the drum tells of its level's surroundings. */
export interface LevelPlace {
  readonly volumeL: number;
  readonly greatestFlowLPerMin: number;
  readonly stopWet: boolean | null;
  /** Where the stop float releases; null when not known. */
  readonly releaseL: number | null;
  readonly resolutionL: number | null;
}

const minuteMs = 60_000;
const longestRecentMs = 6.5 * minuteMs;
const maxRecent = 200;
const maxMinutes = 120;

/** Greatest of 1 % of the drum, 6 standard deviations of a reading and 2 steps: a change under it is noise. */
export function noticeableL(trace: LevelTrace, place: LevelPlace): number {
  const stepL = place.resolutionL ?? trace.stepL ?? 0;
  return Math.max(0.01 * place.volumeL, 6 * (trace.sigmaL ?? 0), 2 * stepL);
}

/** Moves everything that is remembered up or down, as if the draw or the bucket had come before all of it. */
export function shiftPast(trace: LevelTrace, byL: number): void {
  const shifted = (reading: LevelReading): LevelReading => ({
    tMs: reading.tMs,
    litres: reading.litres + byL,
  });
  trace.recent = trace.recent.map(shifted);
  trace.minutes = trace.minutes.map(shifted);
  if (trace.still) trace.still = shifted(trace.still);
}

function learnNoise(trace: LevelTrace): void {
  const { length } = trace.recent;
  const [a, b, c] = [trace.recent[length - 3], trace.recent[length - 2], trace.recent[length - 1]];
  if (!a || !b || !c) return;
  const [first, second] = [b.tMs - a.tMs, c.tMs - b.tMs];
  if (second > 1.5 * first || first > 1.5 * second) return;
  const bend = Math.abs(c.litres - 2 * b.litres + a.litres);
  // Mean size of a second difference of white noise: sqrt(6) × sqrt(2/π) of its standard deviation.
  const said = bend / 1.954;
  trace.sigmaCount = Math.min(60, trace.sigmaCount + 1);
  trace.sigmaL = (trace.sigmaL ?? 0) + (said - (trace.sigmaL ?? 0)) / trace.sigmaCount;
}

function keepMinute(trace: LevelTrace, tMs: number): void {
  const minute = Math.floor(tMs / minuteMs) * minuteMs;
  const last = trace.minutes.at(-1);
  if (last && last.tMs >= minute - minuteMs) return;
  const of = medianIn(trace.recent, minute - minuteMs - 1, minute - 1, 1);
  if (of === null) return;
  trace.minutes.push({ tMs: minute - minuteMs, litres: of.litres });
  if (trace.minutes.length > maxMinutes) trace.minutes.shift();
}

/** Remembers a believed reading. */
export function keepReading(trace: LevelTrace, reading: LevelReading): void {
  const last = trace.recent.at(-1);
  if (last) {
    const step = Math.abs(reading.litres - last.litres);
    if (step > 1e-6 && step < (trace.stepL ?? Number.POSITIVE_INFINITY)) trace.stepL = step;
  }
  trace.recent.push(reading);
  trace.lastL = reading.litres;
  learnNoise(trace);
  keepMinute(trace, reading.tMs);
  const oldestMs = reading.tMs - Math.max(longestRecentMs, 12 * trace.periodMs);
  while (
    trace.recent.length > maxRecent ||
    (trace.recent.length > 3 && (trace.recent[0] as LevelReading).tMs < oldestMs)
  )
    trace.recent.shift();
}

/** Where medians are worked out: a window has no more readings than these. */
const column = new Float64Array(Math.max(maxRecent, maxMinutes) + 1);

/** Median of the readings, oldest first, in (fromMs, toMs]; null when there are fewer than `least`. */
export function medianIn(
  readings: readonly LevelReading[],
  fromMs: number,
  toMs: number,
  least: number,
): { readonly litres: number; readonly count: number } | null {
  let count = 0;
  for (let index = readings.length - 1; index >= 0; index -= 1) {
    const { tMs, litres } = readings[index] as LevelReading;
    if (tMs <= fromMs) break;
    if (tMs > toMs) continue;
    column[count] = litres;
    count += 1;
  }
  return count < least ? null : { litres: medianInPlace(column, count), count };
}

/** Litres now: the last five readings, moved along by the rise; null while nothing is believed. */
export function levelNow(trace: LevelTrace): number | null {
  const last = trace.recent.at(-1);
  if (!last || trace.lost || !trace.heard) return null;
  const riseLPerMs = trace.says === "flowing" ? trace.riseLPerMin / minuteMs : 0;
  const { recent } = trace;
  const first = Math.max(0, recent.length - 5);
  for (let index = first; index < recent.length; index += 1) {
    const { tMs, litres } = recent[index] as LevelReading;
    column[index - first] = litres + riseLPerMs * (last.tMs - tMs);
  }
  return medianInPlace(column, recent.length - first);
}
