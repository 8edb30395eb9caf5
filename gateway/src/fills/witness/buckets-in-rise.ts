import { addFrom, leastStepL } from "./level-foot.ts";
import type { LevelPlace, LevelReading, LevelTrace } from "./level-trace.ts";
import { type LineParts, stretchesOf } from "./stepped-line.ts";

/** A bucket takes so long: what is read meanwhile is on its way down and belongs to neither side, ms. */
const bucketMs = 15_000;
/** So many readings before the first bucket, and so many after it or between two, tell how it rises. */
const leastBefore = 2;
const leastBeside = 3;
/** In fewer readings a bucket is not to be told from noise; in more, the rise has been seen long since. */
const leastReadings = 8;
const mostReadings = 120;
/** The last readings lie off the rise by so many times what lines leave over: a bucket that is being drawn. */
const tailSigmas = 3;

interface Step {
  /** First reading after it. */
  readonly at: number;
  readonly litres: number;
}

/** A rise of one slope with its steps, L/ms, and the squares that are left over of so many readings. */
interface Fit {
  readonly slope: number;
  readonly steps: readonly Step[];
  readonly left: number;
  readonly readings: number;
}

type Stretches = (from: number, to: number) => LineParts;

function fitOf(stretches: Stretches, ends: readonly (readonly [from: number, to: number])[]): Fit {
  const lines = ends.map(([from, to]) => stretches(from, to));
  const sum = (of: (line: LineParts) => number) => lines.reduce((all, line) => all + of(line), 0);
  const slope = sum(({ xy }) => xy) / sum(({ xx }) => xx);
  return {
    slope,
    steps: lines.slice(1).map((line, index) => {
      const before = lines[index] as LineParts;
      const litres = before.meanY + slope * (line.meanX - before.meanX) - line.meanY;
      return { at: ends[index + 1]?.[0] as number, litres };
    }),
    left: Math.max(
      0,
      sum(({ yy, xy }) => yy - slope * xy),
    ),
    readings: ends.reduce((all, [from, to]) => all + to - from, 0),
  };
}

const better = (one: Fit | null, other: Fit): Fit => (one !== null && one.left <= other.left ? one : other);

function bestOfOne(stretches: Stretches, count: number, between: number): Fit | null {
  let best: Fit | null = null;
  for (let one = leastBefore; one + between + leastBeside <= count; one += 1)
    best = better(
      best,
      fitOf(stretches, [
        [0, one],
        [one + between, count],
      ]),
    );
  return best;
}

function bestOfTwo(stretches: Stretches, count: number, between: number): Fit | null {
  let best: Fit | null = null;
  for (let one = leastBefore; one < count; one += 1)
    for (let two = one + between + leastBeside; two + between < count; two += 1)
      best = better(
        best,
        fitOf(stretches, [
          [0, one],
          [one + between, two],
          [two + between, count],
        ]),
      );
  return best;
}

/**
 * Small buckets since the foot of a rise do not show as a fall, and make it look slower than it is, or as if it had begun later. Books
 * up to two of them; the last may be on its way, and is left to what comes. Returns how fast it rises, L/ms; null: none was found.
 */
export function bookBuckets(trace: LevelTrace, place: LevelPlace, footMs: number): number | null {
  const readings = trace.recent.filter(({ tMs }) => tMs >= footMs);
  const { length } = readings;
  const [first] = readings;
  if (!first || length < leastReadings || length > mostReadings) return null;
  const stretches = stretchesOf(
    readings.map(({ tMs }) => tMs - first.tMs),
    readings.map(({ litres }) => litres - first.litres),
  );
  const timeOf = (at: number) => (readings[at] as LevelReading).tMs;
  const between = Math.ceil(bucketMs / trace.periodMs);
  for (const fit of [bestOfTwo(stretches, length, between), bestOfOne(stretches, length, between)]) {
    if (!fit || !(fit.slope > 0)) continue;
    const sdL = Math.sqrt(fit.left / Math.max(1, fit.readings - fit.steps.length - 2));
    const leastL = leastStepL(trace, place, sdL);
    const isTail = ({ at }: Step) => length - at < leastBeside;
    if (!fit.steps.every((step) => step.litres > (isTail(step) ? tailSigmas * sdL : leastL))) continue;
    const booked = fit.steps.filter((step) => !isTail(step));
    for (const { at, litres } of booked) addFrom(trace, timeOf(at), litres);
    const isMid = ({ tMs }: LevelReading) =>
      booked.some(({ at }) => tMs >= timeOf(at - between) && tMs < timeOf(at));
    trace.recent = trace.recent.filter((reading) => !isMid(reading));
    return fit.slope;
  }
  return null;
}
