import { saltsShare } from "./level-salt.ts";
import {
  asInflow,
  keepReading,
  type LevelPlace,
  type LevelReading,
  type LevelTrace,
  noticeableL,
  offsetOf,
} from "./level-trace.ts";

/** A leap waits for so many readings and so long. */
const leapReadings = 3;
const leapMs = 15_000;
/** What one person draws at once; a greater fall is more likely the probe's. */
const bucketL = 20;
/** A level that stays at another place for so long, and nothing speaks against it, is believed there. */
const settledElsewhereMs = 10 * 60_000;
/** A level that was silent for longer may have gone anywhere. */
const longestSilenceMs = 5 * 60_000;

/** Under this share of the drum an exact 0 is an empty drum and no fault of the probe. */
const nearlyEmptyShare = 0.1;

/** How far the level can go in a time without having leapt. */
function reachL(trace: LevelTrace, place: LevelPlace, ms: number): number {
  return Math.max((3 * place.greatestFlowLPerMin * ms) / 60_000, noticeableL(trace, place));
}

/** Where the level should be by now. */
function expectedL(trace: LevelTrace, last: LevelReading, tMs: number): number {
  return last.litres + (trace.says === "flowing" ? (trace.riseLPerMin * (tMs - last.tMs)) / 60_000 : 0);
}

/** Readings that lie farther apart than this show nothing of a bucket but that it is gone. */
const seldomMs = 30_000;

/** Whether its float was read since a wet one first seemed to speak against the level, of seldom readings again: only then does it. */
function isDoubted(trace: LevelTrace, { stopHeardMs }: LevelPlace, { tMs }: LevelReading): boolean {
  // A bucket may take more at once than lies between: the float is read a moment later, and is dry.
  trace.doubtedMs ??= tMs;
  if (stopHeardMs === null) return false;
  return trace.periodMs > seldomMs ? stopHeardMs > trace.doubtedMs : stopHeardMs >= trace.doubtedMs;
}

/** A level that a wet stop float speaks against: more than 4 % under where that float releases. */
function isContradicted(place: LevelPlace, litres: number): boolean {
  return place.stopWet === true && place.releaseL !== null && litres < place.releaseL - 0.04 * place.volumeL;
}

function lose(trace: LevelTrace, reading: LevelReading): void {
  const last = trace.recent.at(-1);
  trace.leap = null;
  trace.fall = null;
  trace.lost = { sinceMs: reading.tMs, wasL: last?.litres ?? reading.litres, readings: [] };
  trace.says = null;
}

/** It fell from each reading to the next, faster than water runs in: a pump or an open drain. */
function isDrain(trace: LevelTrace, place: LevelPlace, leap: readonly LevelReading[]): boolean {
  return leap.every((reading, index) => {
    const before = leap[index - 1];
    return (
      before === undefined || before.litres - reading.litres > reachL(trace, place, reading.tMs - before.tMs)
    );
  });
}

/** Takes a confirmed leap for what it is: a draw, water poured in by hand, or a probe that went astray. */
function land(trace: LevelTrace, place: LevelPlace, leap: readonly LevelReading[]): void {
  const [first] = leap as [LevelReading];
  const last = trace.recent.at(-1) as LevelReading;
  const byL = first.litres - expectedL(trace, last, first.tMs);
  trace.leap = null;
  const isDoubtful = byL < -bucketL || isContradicted(place, first.litres - offsetOf(trace));
  // What falls already goes on falling: all of it is one draw, booked when it is over.
  const fallsOn = trace.fall !== null && byL < 0 && !isDoubtful;
  if (fallsOn || isDrain(trace, place, leap)) {
    for (const reading of leap) keepReading(trace, reading);
    return;
  }
  if (isDoubtful) {
    lose(trace, first);
    return;
  }
  if (byL < 0) {
    trace.drawnL -= byL;
    const roseL = expectedL(trace, last, first.tMs) - last.litres;
    trace.guessedL = (trace.guessedL ?? 0) + Math.min(-byL, roseL);
  } else trace.handL += byL - saltsShare(trace, byL);
  trace.fall = null;
  for (const { tMs, litres } of leap) keepReading(trace, { tMs, litres: litres - byL });
}

/** True while the level stays lost: it is back where it was, or has gone on from another place for 10 min. */
function staysLost(trace: LevelTrace, place: LevelPlace, reading: LevelReading): boolean {
  const { lost } = trace;
  if (!lost) return false;
  const near = Math.max(noticeableL(trace, place), 0.02 * place.volumeL);
  const isBack = Math.abs(reading.litres - lost.wasL) <= near;
  const [first, before] = lost.readings;
  const goesOn =
    before !== undefined &&
    Math.abs(reading.litres - before.litres) <=
      2 * Math.max(near, reachL(trace, place, reading.tMs - before.tMs));
  lost.readings = goesOn && first ? [first, reading] : [reading, reading];
  const isElsewhere = goesOn && first !== undefined && reading.tMs - first.tMs >= settledElsewhereMs;
  if (!isBack && !isElsewhere) return true;
  trace.lost = null;
  const byL = reading.litres - lost.wasL;
  if (isElsewhere && byL < 0) trace.drawnL -= byL;
  if (isElsewhere && byL > 0) trace.handL += byL;
  trace.recent = [];
  trace.minutes = [];
  trace.still = null;
  return false;
}

/** Readings that waited, and that the next one bears out although it is within reach: a small draw, no spike. */
function bornOut(trace: LevelTrace, place: LevelPlace, next: LevelReading): readonly LevelReading[] {
  const waiting = trace.leap?.readings ?? [];
  const [before, last] = [trace.recent.at(-1), waiting.at(-1)];
  if (!before || !last) return [];
  const sides = [last, next].map(({ litres }) => Math.sign(litres - before.litres));
  const isNear =
    Math.abs(next.litres - last.litres) <= Math.abs(next.litres - before.litres) &&
    Math.abs(next.litres - last.litres) <= reachL(trace, place, next.tMs - last.tMs);
  return isNear && sides[0] === sides[1] ? waiting : [];
}

/**
 * Takes a reading through the spike test; false while it can't be believed (yet). A reading that leaves the level's way
 * faster than 3 × the greatest flow waits for 3 readings and 15 s.
 */
export function believe(trace: LevelTrace, place: LevelPlace, raw: LevelReading): boolean {
  const last = trace.recent.at(-1);
  if (raw.litres === 0 || isContradicted(place, raw.litres)) {
    const isEmpty =
      raw.litres === 0 && (last?.litres ?? 0) - offsetOf(trace) <= nearlyEmptyShare * place.volumeL;
    if (!trace.lost && !isEmpty && (raw.litres === 0 || isDoubted(trace, place, raw)))
      lose(trace, asInflow(trace, raw));
    return false;
  }
  if (trace.doubtedMs !== undefined) trace.doubtedMs = undefined;
  if (staysLost(trace, place, asInflow(trace, raw))) return false;
  const reading = asInflow(trace, raw);
  if (!last || reading.tMs - last.tMs > longestSilenceMs) {
    trace.leap = null;
    keepReading(trace, reading);
    return true;
  }
  const off = Math.abs(reading.litres - expectedL(trace, last, reading.tMs));
  if (off <= reachL(trace, place, reading.tMs - last.tMs)) {
    for (const skipped of bornOut(trace, place, reading)) keepReading(trace, skipped);
    trace.leap = null;
    keepReading(trace, reading);
    return true;
  }
  const before = trace.leap?.readings.at(-1);
  // A probe that goes astray does so at once; what falls reading after reading is being drawn.
  const goesOn =
    before !== undefined &&
    (Math.abs(reading.litres - before.litres) <= reachL(trace, place, reading.tMs - before.tMs) ||
      (before.litres < last.litres && reading.litres < before.litres));
  const readings = goesOn && trace.leap ? [...trace.leap.readings, reading] : [reading];
  trace.leap = { readings };
  const [first] = readings as [LevelReading];
  if (readings.length < leapReadings || reading.tMs - first.tMs < leapMs) return false;
  land(trace, place, readings);
  return trace.lost === null;
}
