import { median, medianInPlace } from "../../statistics/index.ts";
import { bookBuckets } from "./buckets-in-rise.ts";
import { bookDrawInRise } from "./draw-in-rise.ts";
import { bookDip } from "./level-dip.ts";
import { followFall, payOwed } from "./level-fall.ts";
import { isFootClear, settleFoot } from "./level-foot.ts";
import { restsUnderWetFloat } from "./level-rests.ts";
import {
  type LevelPlace,
  type LevelReading,
  type LevelTrace,
  medianIn,
  noiseOf,
  noticeableL,
  stepOf,
} from "./level-trace.ts";

const minuteMs = 60_000;
const fastMs = 2 * minuteMs;
const longestWindowMs = 30 * minuteMs;
const leastReadings = 5;
/** Of the standard deviation of two medians' difference: noise goes no further. */
const noiseTimes = 3;
/** So many readings on the way tell how fast it goes. */
const leastClear = 4;
/** Of a rise within two hours, half of what an even one brings in its last half hour. */
const latelyMs = 30 * minuteMs;
const latelyShare = 1 / 8;

/** Standard deviation of the difference of two medians of `count` readings (each π/2 of the mean's variance). */
function differenceSd(trace: LevelTrace, count: number): number {
  const byReadings = 1.2533 * noiseOf(trace) * Math.sqrt(2 / Math.max(1, count));
  const learned = trace.stillCount < 10 ? 0 : Math.sqrt(trace.stillSquare);
  return Math.max(byReadings, learned);
}

function thresholdL(trace: LevelTrace, place: LevelPlace, count: number): number {
  const stepL = place.resolutionL ?? stepOf(trace, place.volumeL);
  return Math.max(0.01 * place.volumeL, 6 * differenceSd(trace, count), 2 * stepL);
}

/** Medians of two windows, one after the other, litres. */
interface Risen {
  readonly byL: number;
  readonly nowL: number;
  readonly beforeL: number;
  /** Readings in the one that has fewer. */
  readonly count: number;
}

/** How much the last window's median is over that of the window before. */
function risen(trace: LevelTrace, tMs: number, windowMs: number): Risen | null {
  const readings = windowMs > 2.5 * minuteMs && windowMs > 5 * trace.periodMs ? trace.minutes : trace.recent;
  const least = readings === trace.minutes ? 2 : leastReadings;
  const now = medianIn(readings, tMs - windowMs, tMs, least);
  const before = medianIn(readings, tMs - 2 * windowMs, tMs - windowMs, least);
  return now && before
    ? {
        byL: now.litres - before.litres,
        nowL: now.litres,
        beforeL: before.litres,
        count: Math.min(now.count, before.count),
      }
    : null;
}

/** The straight line of the rise, by the middle of what is clearly on its way; null where too little is. */
function onTheWay(readings: readonly LevelReading[]): { readonly lPerMs: number } | null {
  if (readings.length < 3) return null;
  const slopes: number[] = [];
  const step = Math.ceil(readings.length / 20);
  for (let i = 0; i < readings.length; i += step)
    for (let j = i + step; j < readings.length; j += step) {
      const [a, b] = [readings[i], readings[j]] as [LevelReading, LevelReading];
      if (b.tMs > a.tMs) slopes.push((b.litres - a.litres) / (b.tMs - a.tMs));
    }
  return slopes.length === 0 ? null : { lPerMs: median(slopes) };
}

/** The reading nearest to a time: a knee is dated at a reading. */
function nearest(readings: readonly LevelReading[], tMs: number): LevelReading | null {
  return readings.reduce<LevelReading | null>(
    (best, reading) =>
      best === null || Math.abs(reading.tMs - tMs) < Math.abs(best.tMs - tMs) ? reading : best,
    null,
  );
}

/** How fast the last two minutes rise, L/min; null while fewer than 4 readings over 15 s are there. */
export function slopeNow(trace: LevelTrace): number | null {
  const last = trace.recent.at(-1);
  const of = last ? trace.recent.filter(({ tMs }) => tMs > last.tMs - fastMs) : [];
  if (of.length < 4 || (of.at(-1) as LevelReading).tMs - (of[0] as LevelReading).tMs < 15_000) return null;
  return (onTheWay(of)?.lPerMs ?? 0) * minuteMs;
}

/** When a rise began, ms, and how fast it goes: by what is clearly on its way. */
function onset(
  trace: LevelTrace,
  place: LevelPlace,
  source: readonly LevelReading[],
  rise: { readonly fromL: number; readonly lPerMs: number; readonly tMs: number },
): { readonly begunMs: number; readonly lPerMs: number } {
  const clear = source.filter(({ litres }) => litres > rise.fromL + noticeableL(trace, place) / 2);
  const own = clear.length < leastClear ? null : onTheWay(clear);
  const lPerMs = own && own.lPerMs > 0 ? own.lPerMs : rise.lPerMs;
  if (clear.length === 0) return { begunMs: rise.tMs, lPerMs };
  return {
    begunMs: median(clear.map((reading) => reading.tMs - (reading.litres - rise.fromL) / lPerMs)),
    lPerMs,
  };
}

function begin(trace: LevelTrace, place: LevelPlace, tMs: number, saidLPerMs: number): void {
  const lPerMs = (trace.owed && bookBuckets(trace, place, trace.owed.toMs)) ?? saidLPerMs;
  const sourceOf = () => (lPerMs * fastMs > 0.005 * place.volumeL ? trace.recent : trace.minutes);
  const low =
    trace.still?.litres ??
    medianIn(sourceOf(), Number.NEGATIVE_INFINITY, tMs, 1)?.litres ??
    (trace.lastL as number);
  // Without a standstill before it, the rise has gone on since the level was first heard.
  let fromL = trace.still === null ? (sourceOf()[0] as LevelReading).litres : low;
  let rise = onset(trace, place, sourceOf(), { fromL, lPerMs, tMs });
  const wasOwed = trace.owed !== null;
  if (payOwed(trace, rise, tMs)) {
    fromL = trace.foot?.stoodL ?? fromL;
    rise = onset(trace, place, sourceOf(), { fromL, lPerMs: rise.lPerMs, tMs });
  }
  const dip = wasOwed || trace.still === null ? null : bookDip(trace, place, rise, tMs);
  if (dip !== null) rise = dip;
  const knee = nearest(sourceOf(), Math.min(tMs, rise.begunMs));
  trace.says = "flowing";
  trace.saidMs = tMs;
  trace.sinceMs = knee?.tMs ?? tMs;
  trace.still = { tMs: trace.sinceMs, litres: dip?.fromL ?? fromL };
  trace.riseLPerMin = rise.lPerMs * minuteMs;
  if (isFootClear(trace, tMs)) settleFoot(trace, place, tMs);
}

/** Readings of a rise that are clearly under where it ended. */
function wayTo(trace: LevelTrace, place: LevelPlace, lastL: number): readonly LevelReading[] {
  const margin = Math.max(noticeableL(trace, place) / 2, 3 * noiseOf(trace));
  return trace.recent.filter(({ tMs, litres }) => tMs >= trace.sinceMs && litres < lastL - margin);
}

function end(trace: LevelTrace, place: LevelPlace, tMs: number): void {
  const lastNow = () => medianIn(trace.recent, tMs - minuteMs, tMs, 1)?.litres ?? (trace.lastL as number);
  settleFoot(trace, place, wayTo(trace, place, lastNow()).at(-1)?.tMs ?? 0);
  const last = lastNow();
  const margin = Math.max(noticeableL(trace, place) / 2, 3 * noiseOf(trace));
  const way = wayTo(trace, place, last);
  const lPerMs = onTheWay(way)?.lPerMs ?? trace.riseLPerMin / minuteMs;
  const overMs =
    way.length === 0 || !(lPerMs > 0)
      ? (trace.recent.find(({ litres }) => litres >= last - margin)?.tMs ?? tMs)
      : median(way.map((reading) => reading.tMs + (last - reading.litres) / lPerMs));
  trace.says = "still";
  trace.sinceMs = nearest(trace.recent, Math.max(trace.sinceMs, Math.min(tMs, overMs)))?.tMs ?? tMs;
  trace.riseLPerMin = 0;
  const after = medianIn(trace.recent, trace.sinceMs - 1, tMs, 1);
  trace.still = { tMs: trace.sinceMs, litres: after?.litres ?? last };
  trace.minutes = [];
  trace.stillCheckedMs = tMs;
}

/**
 * Learns at standstill how far two medians lie apart. What is beyond 3 of their standard deviations is a bucket, or the
 * begin of a rise: it counts as 3. Taken whole, one bucket makes the next fill noise, and that one the one after it.
 */
function standStill(trace: LevelTrace, place: LevelPlace, tMs: number, { byL, count }: Risen): void {
  if (tMs - trace.stillCheckedMs < fastMs) return;
  trace.stillCheckedMs = tMs;
  const mostL = Math.max(noiseTimes * differenceSd(trace, count), stepOf(trace, place.volumeL));
  const noiseL = Math.min(Math.abs(byL), mostL);
  trace.stillCount = Math.min(30, trace.stillCount + 1);
  trace.stillSquare += (noiseL * noiseL - trace.stillSquare) / trace.stillCount;
}

const five = new Float64Array(5);

/** Lowest median of five minutes of the last two hours: what a slow rise is counted from. */
function lowestStill({ minutes }: LevelTrace): LevelReading | null {
  let lowest: LevelReading | null = null;
  for (let at = 0; at + five.length <= minutes.length; at += five.length) {
    for (let index = 0; index < five.length; index += 1)
      five[index] = (minutes[at + index] as LevelReading).litres;
    const litres = medianInPlace(five, five.length);
    if (lowest === null || litres <= lowest.litres)
      lowest = { tMs: (minutes[at + 2] as LevelReading).tMs, litres };
  }
  return lowest;
}

/**
 * What a slow rise is counted from: no lower than where it stood when its valve opened, by the five minutes before. Null
 * where it did not stand.
 */
function lowestSince(trace: LevelTrace, { openSinceMs }: LevelPlace): LevelReading | null {
  const low = lowestStill(trace);
  if (low === null || openSinceMs === null || low.tMs >= openSinceMs) return low;
  const stood = medianIn(
    trace.minutes,
    openSinceMs - (five.length + 1) * minuteMs,
    openSinceMs - minuteMs,
    1,
  );
  return stood && { tMs: openSinceMs, litres: stood.litres };
}

/** Whether some minute lies so far under `litres`: no median of five does where none does, and that is soon seen. */
function isOverSome({ minutes }: LevelTrace, litres: number, byL: number): boolean {
  for (const minute of minutes) if (litres - minute.litres > byL) return true;
  return false;
}

/** A slow rise goes on: what came in long ago, unseen while somebody drew, is none. */
function goesOn(
  { minutes }: LevelTrace,
  tMs: number,
  rise: { readonly fromL: number; readonly toL: number },
) {
  const lately = minutes.findLast((minute) => minute.tMs <= tMs - latelyMs);
  return !lately || rise.toL - lately.litres >= (rise.toL - rise.fromL) * latelyShare;
}

/**
 * By how much it rises anew, L. While the window before reaches back past the begin of its standstill, what it rose by then is
 * no new rise: that goes from where it stands. One that is seldom read ends a rise by a few readings, and it may go on.
 */
function risesAnewL(
  { says, sinceMs, still }: LevelTrace,
  { stopWet }: LevelPlace,
  tMs: number,
  { byL, nowL, windowMs }: Risen & { readonly windowMs: number },
): number {
  const hasEnded = says === "still" && tMs - 2 * windowMs < sinceMs;
  const hasStood = hasEnded && (windowMs === fastMs || stopWet === true);
  return hasStood && still ? Math.min(byL, nowL - still.litres) : byL;
}

function judgeStill(trace: LevelTrace, place: LevelPlace, tMs: number): void {
  const windowMs = Math.max(fastMs, 5 * trace.periodMs);
  const fast = risen(trace, tMs, windowMs);
  if (!fast) return;
  if (risesAnewL(trace, place, tMs, { ...fast, windowMs }) > thresholdL(trace, place, fast.count)) {
    begin(trace, place, tMs, (slopeNow(trace) ?? (fast.byL / windowMs) * minuteMs) / minuteMs);
    return;
  }
  const leastL = 1.5 * thresholdL(trace, place, fast.count);
  const low = isOverSome(trace, fast.nowL, leastL) ? lowestSince(trace, place) : null;
  if (
    low &&
    fast.nowL - low.litres > leastL &&
    tMs > low.tMs &&
    goesOn(trace, tMs, { fromL: low.litres, toL: fast.nowL })
  ) {
    trace.still = low;
    begin(trace, place, tMs, (fast.nowL - low.litres) / (tMs - windowMs / 2 - low.tMs));
    return;
  }
  if (trace.says === null) {
    trace.says = "still";
    trace.sinceMs = (trace.recent[0] as LevelReading).tMs;
  }
  // Before the last window: what rises in it has not moved the mark yet.
  if (tMs - 2 * windowMs < trace.sinceMs) return;
  standStill(trace, place, tMs, fast);
  trace.still = { tMs, litres: fast.beforeL };
}

function judgeFlowing(trace: LevelTrace, place: LevelPlace, tMs: number): void {
  if (isFootClear(trace, tMs)) settleFoot(trace, place, tMs);
  if (restsUnderWetFloat(trace, place)) {
    end(trace, place, tMs);
    return;
  }
  const shortMs = Math.max(fastMs, 5 * trace.periodMs);
  const thr = thresholdL(trace, place, shortMs / trace.periodMs);
  const expectedMs = trace.riseLPerMin > 0 ? (2 * thr * minuteMs) / trace.riseLPerMin : longestWindowMs;
  // Both windows lie in the rise: what was before it began shows nothing of whether it is over.
  const risingMs = (tMs - trace.sinceMs) / 2;
  const windowMs = Math.min(longestWindowMs, Math.max(shortMs, Math.min(expectedMs, risingMs)));
  const last = risen(trace, tMs, windowMs);
  const fast = risen(trace, tMs, shortMs);
  if (fast && fast.byL > thr)
    trace.riseLPerMin = Math.max(trace.riseLPerMin, (fast.byL / shortMs) * minuteMs);
  if (!last) return;
  if (last.byL < Math.min(thr, (trace.riseLPerMin * windowMs) / minuteMs / 2)) end(trace, place, tMs);
}

/** Judges after each believed reading whether the level says that water flows in. */
export function judgeRise(trace: LevelTrace, place: LevelPlace, tMs: number): void {
  followFall(trace, place, tMs);
  if (trace.fall) return;
  bookDrawInRise(trace, place);
  if (trace.says === "flowing") judgeFlowing(trace, place, tMs);
  else judgeStill(trace, place, tMs);
}
