import { type LevelTrace, levelNow, noiseOf, offsetOf } from "./level-trace.ts";

/** A level that lies so far off its own median moves. */
const sigmas = 6;
const withinPeriods = 1.5;
/** One that is read less often falls by whole buckets from a reading to the next: those wait, to be borne out, as leaps do. */
const seldomMs = 30_000;

/**
 * Where a level stood when a float changed over, L; null while none is believed. A bucket moves it on by many litres from one
 * reading to the next: then the float changed over between the two, and the median of the last minutes lies far above.
 */
export function levelAtEdge(trace: LevelTrace, edgeMs: number): number | null {
  const now = levelNow(trace);
  if (now === null) return null;
  const readings =
    trace.leap && trace.periodMs > seldomMs ? [...trace.recent, ...trace.leap.readings] : trace.recent;
  const after = readings.findLastIndex(({ tMs }) => tMs <= edgeMs);
  const [before, then] = [readings[after - 1], readings[after]];
  if (!before || !then || edgeMs - then.tMs > withinPeriods * trace.periodMs) return now;
  const between = (before.litres + then.litres) / 2 - offsetOf(trace);
  return Math.abs(between - now) > sigmas * noiseOf(trace) ? between : now;
}
