import { addFrom, leastStepL, stoodMs } from "./level-foot.ts";
import type { LevelPlace, LevelReading, LevelTrace } from "./level-trace.ts";
import { lineOf, stepBetween } from "./stepped-line.ts";

/** So long, and so many readings at least, tell that it rises on from lower down. */
const afterMs = 60_000;
const leastAfter = 4;
/** So many times as many before them tell how it rose. */
const beforeTimes = 3;
const leastBefore = 4;
/** It rises on at no less than this share of its pace: else the water has stopped. */
const goesOnShare = 0.5;

const lineThrough = (readings: readonly LevelReading[], fromMs: number) =>
  lineOf(
    readings.map(({ tMs }) => tMs - fromMs),
    readings.map(({ litres }) => litres),
  );

/**
 * Books a bucket that was drawn while water came in: less than came in while it was read does not show as a fall, but the rise goes on
 * from lower down. What stays down has stopped. The reading between may have been read in mid-draw, and belongs to neither.
 */
export function bookDrawInRise(trace: LevelTrace, place: LevelPlace): void {
  if (trace.says !== "flowing" || place.callsSinceMs === null || place.meteredLPerMin !== null) return;
  const count = Math.max(leastAfter, Math.ceil(afterMs / trace.periodMs));
  const rise = trace.recent.filter(({ tMs }) => tMs >= trace.sinceMs);
  const before = rise.slice(0, -count - 1).slice(-beforeTimes * count);
  const [between, ...after] = rise.slice(-count - 1);
  const [first] = before;
  if (before.length < leastBefore || !first || !between || after.length < count) return;
  const [one, two] = [lineThrough(before, first.tMs), lineThrough(after, first.tMs)];
  const { slope, litres, left } = stepBetween(one, two);
  const sdL = Math.sqrt(left / (before.length + after.length - 3));
  const gap = { fromMs: (before.at(-1) ?? first).tMs, toMs: (after[0] ?? between).tMs };
  if (stoodMs(trace, gap, { slope, litres, leastL: leastStepL(trace, place, sdL || 0) }) > 0) return;
  if (litres <= leastStepL(trace, place, sdL) || two.xy < goesOnShare * slope * two.xx || !(slope > 0))
    return;
  addFrom(trace, (after[0] as LevelReading).tMs, litres);
  trace.recent = trace.recent.filter((reading) => reading.tMs !== between.tMs);
}
