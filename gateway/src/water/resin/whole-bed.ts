import type { Litre } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";
import type { Breakthrough, BreakthroughPoint } from "./breakthrough.ts";

/** What a bed would have treated used whole: the integral of 1 - share from 0 on, and where it comes from. */
export interface WholeBed {
  readonly volumeL: Litre;
  readonly lowL: Litre;
  /** Null where only the foot of the rise was seen: it doesn't tell how far the rise goes. */
  readonly highL: Litre | null;
  /** Held before the first point, by the curve. */
  readonly beforeL: Litre;
  /** Between the first and the last point. */
  readonly measuredL: Litre;
  /** Still to hold after the last point, by the curve. */
  readonly afterL: Litre;
  /**
   * points: what the curve adds beyond them and takes off before them is under 1 %. curve: it is more. foot: no point has
   * passed a tenth of the feed: only the lower end is known.
   */
  readonly by: "points" | "curve" | "foot";
}

/** A rise that has not come this far is seen at its foot alone. */
const footShare = 0.1;
/** Share of the whole volume that the curve may change where the points are said to have given it. */
const pointsShare = 0.01;
/**
 * How far the extrapolated part may be off beside the fit's own error, which knows nothing of whether the curve is the
 * right one: two published columns, cut at 0.09 to 0.6 of the feed, held 1.15 to 1.5 times what the curve gave after the
 * cut (tests/values/resin.json). The interval is from half of it to twice.
 */
const tailFactors = { low: 0.5, high: 2 } as const;

/** ln(1 + e^x). */
const softPlus = (x: number) => Math.max(0, x) + Math.log1p(Math.exp(-Math.abs(x)));
const logistic = (x: number) => 1 / (1 + Math.exp(-x));

/** Held between the points, by trapezoids. Points in order of volume, two or more. Throws OutOfRange. */
export function measuredVolume(points: readonly BreakthroughPoint[]): Litre {
  requireInRange("points", points.length, 2, 100_000, "1");
  let sum = 0;
  for (let place = 1; place < points.length; place += 1) {
    const [one, other] = [points[place - 1] as BreakthroughPoint, points[place] as BreakthroughPoint];
    const step = other.volumeL - one.volumeL;
    requireInRange("step of volume", step, 0, 1e9, "L", "Points come in order of volume.");
    sum += step * (1 - (one.share + other.share) / 2);
  }
  return sum;
}

/** Volumes beyond the points, by the curve: leaked before the first, held after the last; and their common error. */
function beyond(curve: Breakthrough, firstL: Litre, lastL: Litre) {
  const { ratePerL: rate, halfL: half } = curve;
  const [start, begin, end] = [-rate * half, rate * (firstL - half), rate * (half - lastL)];
  const leakedL = (softPlus(begin) - softPlus(start)) / rate;
  const afterL = softPlus(end) / rate;
  const byRate =
    ((half - lastL) * logistic(end) -
      (firstL - half) * logistic(begin) -
      half * logistic(start) -
      afterL +
      leakedL) /
    rate;
  const byHalf = logistic(end) + logistic(begin) - logistic(start);
  const variance =
    (byRate * curve.rateStandardErrorPerL) ** 2 +
    (byHalf * curve.halfStandardErrorL) ** 2 +
    2 * byRate * byHalf * curve.rateHalfCovariance;
  return { leakedL, afterL, standardErrorL: Math.sqrt(Math.max(0, variance)) };
}

/**
 * Stoichiometric volume of a bed: by its points where they are, from 0 to the first and from the last on by the fitted
 * curve. The interval joins the fit's (at the fit's confidence) with what the curve may be wrong by. Points in order of
 * volume from 0 on, those that the curve was fitted to. Throws OutOfRange.
 */
export function wholeBed(points: readonly BreakthroughPoint[], curve: Breakthrough): WholeBed {
  const measuredL = measuredVolume(points);
  const firstL = (points[0] as BreakthroughPoint).volumeL;
  requireInRange("first volume", firstL, 0, 1e9, "L", "A run begins at 0.");
  const { leakedL, afterL, standardErrorL } = beyond(
    curve,
    firstL,
    (points.at(-1) as BreakthroughPoint).volumeL,
  );
  const beforeL = firstL - leakedL;
  const volumeL = beforeL + measuredL + afterL;
  const reachL = curve.studentT * standardErrorL;
  const foot = !points.some(({ share }) => share >= footShare);
  const low =
    firstL - leakedL * tailFactors.high + measuredL + (foot ? 0 : afterL * tailFactors.low - reachL);
  const high = firstL - leakedL * tailFactors.low + measuredL + afterL * tailFactors.high + reachL;
  const measured = afterL + leakedL <= pointsShare * volumeL;
  return {
    volumeL,
    lowL: Math.max(0, low),
    highL: foot ? null : high,
    beforeL,
    measuredL,
    afterL,
    by: foot ? "foot" : measured ? "points" : "curve",
  };
}

/**
 * The least that a bed treats used whole, from points that give no curve because they have hardly risen: held between
 * them, and before the first no worse than there. Null where a point has passed a tenth of the feed, or there are fewer
 * than two. Points in order of volume. Throws OutOfRange.
 */
export function wholeAtLeast(points: readonly BreakthroughPoint[]): Litre | null {
  const [first] = points;
  if (!first || points.length < 2 || points.some(({ share }) => share >= footShare)) return null;
  return first.volumeL * (1 - Math.max(0, first.share)) + measuredVolume(points);
}
