import { median, medianInPlace } from "../../statistics/index.ts";
import type { BeganAnew } from "./began-anew.ts";
import type { DissolvingSalt } from "./dissolving-salt.ts";
import type { Foot, Owed } from "./drawn-on-call.ts";
import type { LevelRepeats } from "./level-repeats.ts";

/**
 * A level at a time, as inflow alone would have left it: litres in the drum, what was drawn so far added, what was
 * poured in by hand taken off. Differences tell inflow, whatever was drawn between them.
 */
export interface LevelReading {
  readonly tMs: number;
  readonly litres: number;
}

/** A level that left its way and waits for readings that confirm it. */
interface Leap {
  readonly readings: LevelReading[];
}

/** What is remembered of one drum's level. Plain data. */
export interface LevelTrace {
  /** Readings that are believed, of the last minutes, oldest first. */
  recent: LevelReading[];
  /** Median of each minute of the last two hours. */
  minutes: LevelReading[];
  leap: Leap | null;
  /** Since when its wet float seems to speak against it, and has not been read since; absent: nothing does. */
  doubtedMs?: number | undefined;
  /** It fell by more than a bucket, read exactly 0 or lies where a wet float says that it can't be. */
  lost: { readonly sinceMs: number; readonly wasL: number; readings: LevelReading[] } | null;
  says: "flowing" | "still" | null;
  /** It has said one of them before. */
  hasSaid?: boolean;
  sinceMs: number;
  /** When it was first said that it rises, which is some minutes after `sinceMs`; absent: never, or a row of versions before. */
  saidMs?: number;
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
  /** Of what was drawn, what the level itself did not fall by: taken to have come in meanwhile. Absent in rows of versions before. */
  guessedL?: number;
  /** A fall that is going on. */
  fall: {
    readonly fromL: number;
    readonly fromMs: number;
    leastL: number;
    leastMs: number;
    cameL: number;
    /** Since when a meter counted in it; absent: since it began, or a row of versions before. */
    cameSinceMs?: number;
    /** Where it stood before, by more readings; absent: it did not, or a row of versions before. */
    readonly stoodL?: number;
  } | null;
  /** What came in while it fell is added once its rise shows how fast. */
  owed: Owed | null;
  /** Where that rise began; absent: it is settled. */
  foot?: Foot;
  /** How far readings lie off their own line, in the last three stretches of 2 min, L: slow waves too. */
  spreadsL: number[];
  spreadMs: number;
  heard: boolean;
  lastMs: number | null;
  /** Its last silence that ended as its node started anew; absent: none. */
  anew?: BeganAnew;
  /** The last believed readings as they came, for rules that go by two in a row. */
  lastL: number | null;
  /** How often it says the very same; absent in rows of versions before. */
  repeats?: LevelRepeats;
  /** By pressure: litres that it shows more or less since salt went in and that are no water; absent in rows of versions before. */
  saltL?: number;
  salt?: DissolvingSalt | undefined;
  isWeighedAnew?: true | undefined;
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
    guessedL: 0,
    fall: null,
    owed: null,
    spreadsL: [],
    spreadMs: 0,
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
  /** When its stop float was last read; null: never. */
  readonly stopHeardMs: number | null;
  /** Where the stop float releases; null when not known. */
  readonly releaseL: number | null;
  readonly resolutionL: number | null;
  /** An automatic drum's stop float is dry since, or a person fills it since; null: nobody asks, or the float is not heard. */
  readonly callsSinceMs: number | null;
  /** A person said so at that very moment; absent: its float did, at its first reading after. */
  readonly isSaid?: boolean;
  /** Its valve stands open since, by a contact; null: it is shut, or nothing tells. */
  readonly openSinceMs: number | null;
  /** What a meter of its own says comes in now, L/min; null where none tells. */
  readonly meteredLPerMin: number | null;
  /** Since when it does, epoch ms; null where nothing runs past the meter. */
  readonly meteredSinceMs: number | null;
}

const minuteMs = 60_000;
const longestRecentMs = 6.5 * minuteMs;
const maxRecent = 200;
const maxMinutes = 120;
const spreadMs = 2 * minuteMs;
const leastSpread = 6;

/** A coarser probe says so in the line file: the first thing that a quiet one shows may be a bucket. */
const maxStepShare = 0.02;

/** The smallest step of the level that was seen, L; a change of more than 2 % of the drum is none. */
export const stepOf = ({ stepL }: LevelTrace, volumeL: number): number =>
  Math.min(stepL ?? 0, maxStepShare * volumeL);

/** Greatest of 1 % of the drum, 6 standard deviations of a reading and 2 steps: a change under it is noise. */
export function noticeableL(trace: LevelTrace, place: Pick<LevelPlace, "volumeL" | "resolutionL">): number {
  const stepL = place.resolutionL ?? stepOf(trace, place.volumeL);
  return Math.max(0.01 * place.volumeL, 6 * noiseOf(trace), 2 * stepL);
}

/** It is lost, or stands on one value: nothing that it says is believed. */
export const isAstray = ({ lost, repeats }: LevelTrace): boolean =>
  lost !== null || repeats?.isFrozen === true;

/** What is drawn, poured in by hand and the salt's, to be added to litres in the drum: then differences tell inflow. */
export const offsetOf = ({ drawnL, handL, saltL = 0 }: LevelTrace): number => drawnL - handL - saltL;

/** A level as inflow alone would have left it. */
export const asInflow = (trace: LevelTrace, { tMs, litres }: LevelReading): LevelReading => ({
  tMs,
  litres: litres + offsetOf(trace),
});

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

/** Standard deviation of one reading, L: of white noise, or of waves that are slower than the readings. */
export function noiseOf({ sigmaL, spreadsL }: LevelTrace): number {
  return Math.max(sigmaL ?? 0, spreadsL.length < 3 ? 0 : median(spreadsL));
}

/** Learns, once in 2 min, how far the readings lie off their own straight line. */
function learnSpread(trace: LevelTrace, tMs: number): void {
  if (tMs - trace.spreadMs < spreadMs) return;
  trace.spreadMs = tMs;
  const of = trace.recent.filter((reading) => reading.tMs > tMs - spreadMs);
  if (of.length < leastSpread) return;
  const middle = Math.floor(of.length / 2);
  const [early, late] = [of.slice(0, middle), of.slice(-middle)];
  const centre = (part: readonly LevelReading[]) => ({
    tMs: median(part.map((reading) => reading.tMs)),
    litres: median(part.map(({ litres }) => litres)),
  });
  const [a, b] = [centre(early), centre(late)];
  const slope = b.tMs > a.tMs ? (b.litres - a.litres) / (b.tMs - a.tMs) : 0;
  const off = of.map((reading) => Math.abs(reading.litres - a.litres - slope * (reading.tMs - a.tMs)));
  trace.spreadsL.push(1.4826 * median(off));
  if (trace.spreadsL.length > 3) trace.spreadsL.shift();
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
  trace.lastL = reading.litres - offsetOf(trace);
  learnNoise(trace);
  learnSpread(trace, reading.tMs);
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

/** Median of the last readings as inflow alone would have left them, L; null while nothing is believed. */
export function medianOfLast(trace: LevelTrace, count: number): number | null {
  const last = trace.recent.slice(-count).map(({ litres }) => litres);
  return last.length === 0 || isAstray(trace) ? null : median(last);
}

/** The last five readings as inflow alone would have left them, moved along by the rise; null while nothing is believed. */
function countNow(trace: LevelTrace): number | null {
  const last = trace.recent.at(-1);
  if (!last || isAstray(trace) || !trace.heard) return null;
  const riseLPerMs = trace.says === "flowing" ? trace.riseLPerMin / minuteMs : 0;
  const { recent } = trace;
  const first = Math.max(0, recent.length - 5);
  let highest = Number.NEGATIVE_INFINITY;
  for (let index = first; index < recent.length; index += 1) {
    const { tMs, litres } = recent[index] as LevelReading;
    column[index - first] = litres + riseLPerMs * (last.tMs - tMs);
    if (litres > highest) highest = litres;
  }
  // A rise that has ended is noticed late: it is no higher than the highest of them.
  return Math.min(highest, medianInPlace(column, recent.length - first));
}

/** Litres in the drum now; null while nothing is believed. */
export function levelNow(trace: LevelTrace): number | null {
  const now = countNow(trace);
  return now === null ? null : now - offsetOf(trace);
}

/** Litres that count inflow alone; a fall that goes on takes nothing off. Null while nothing is believed. */
export function inflowLevel(trace: LevelTrace, litres = levelNow(trace)): number | null {
  if (litres === null) return null;
  const now = litres + offsetOf(trace);
  return trace.fall ? Math.max(now, trace.fall.fromL + trace.fall.cameL) : now;
}
