import { median } from "../../statistics/index.ts";
import { type LevelPlace, type LevelReading, type LevelTrace, medianIn } from "./level-trace.ts";

const minuteMs = 60_000;
/** So many minutes before a call tell where the level stood. */
const stoodMinutes = 5;
const leastMinutes = 2;
/** So many readings since it called tell its way. */
const leastReadings = 4;
/** For so long a call is remembered well enough to say how the level went on from it. */
const longestMs = 30 * minuteMs;

/** A straight line: litres at a time, and how fast. */
interface Line {
  readonly tMs: number;
  readonly litres: number;
  readonly lPerMs: number;
}

const at = ({ tMs, litres, lPerMs }: Line, atMs: number): number => litres + lPerMs * (atMs - tMs);

/** The line that goes through most of the readings: the median of all slopes, and of what they leave. */
function lineThrough(readings: readonly LevelReading[], fromMs: number): Line {
  const slopes: number[] = [];
  for (const [index, a] of readings.entries())
    for (const b of readings.slice(index + 1)) slopes.push((b.litres - a.litres) / (b.tMs - a.tMs));
  const lPerMs = median(slopes);
  return {
    tMs: fromMs,
    lPerMs,
    litres: median(readings.map((one) => one.litres - lPerMs * (one.tMs - fromMs))),
  };
}

/** Readings since a time; of a call that is longer ago than readings are kept, its minutes, each at its middle. */
function since({ recent, minutes }: LevelTrace, fromMs: number): readonly LevelReading[] {
  const [first] = recent;
  const all =
    first && first.tMs <= fromMs
      ? recent
      : minutes.map(({ tMs, litres }) => ({ tMs: tMs + minuteMs / 2, litres }));
  return all.filter(({ tMs }) => tMs > fromMs);
}

const offBy = (readings: readonly LevelReading[], way: (tMs: number) => number): number =>
  readings.reduce((sum, { tMs, litres }) => sum + Math.abs(litres - way(tMs)), 0);

/**
 * Books what was drawn when the drum called, where that was too little to show over the level's noise: its float fell, so
 * the level did. True when the readings since lie nearer to a rise from a lower place, begun with the call, than to one
 * that began from where the level stood (`late`): then the valve was shut meanwhile. Returns since when it rises, and from where.
 */
export function bookDip(
  trace: LevelTrace,
  { callsSinceMs }: LevelPlace,
  late: { readonly begunMs: number; readonly lPerMs: number },
  tMs: number,
): { readonly begunMs: number; readonly lPerMs: number; readonly fromL: number } | null {
  if (callsSinceMs === null || tMs - callsSinceMs > longestMs) return null;
  // A float that turned dry did so before it was read.
  const fromMs = callsSinceMs - trace.periodMs / 2;
  const stood = medianIn(
    trace.minutes,
    fromMs - (stoodMinutes + 1) * minuteMs,
    fromMs - minuteMs,
    leastMinutes,
  );
  const readings = since(trace, callsSinceMs);
  if (stood === null || readings.length < leastReadings) return null;
  const line = lineThrough(readings, fromMs);
  const dipL = stood.litres - line.litres;
  if (!(dipL > 0) || !(line.lPerMs > 0)) return null;
  const lateOff = offBy(readings, (ms) => stood.litres + Math.max(0, late.lPerMs * (ms - late.begunMs)));
  if (offBy(readings, (ms) => at(line, ms)) >= lateOff) return null;
  trace.drawnL += dipL;
  trace.guessedL = (trace.guessedL ?? 0) + Math.min(dipL, line.lPerMs * (callsSinceMs - fromMs));
  const moved = (reading: LevelReading, midMs: number): LevelReading =>
    midMs >= fromMs ? { tMs: reading.tMs, litres: reading.litres + dipL } : reading;
  trace.recent = trace.recent.map((reading) => moved(reading, reading.tMs));
  trace.minutes = trace.minutes.map((minute) => moved(minute, minute.tMs + minuteMs / 2));
  return { begunMs: fromMs, lPerMs: line.lPerMs, fromL: stood.litres };
}
