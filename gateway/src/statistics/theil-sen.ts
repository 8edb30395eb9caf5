import { requireInRange } from "../quantities/index.ts";
import { scoreVariance, tieSizes } from "./mann-kendall.ts";
import { normalQuantile } from "./normal.ts";
import { median, medianOfSorted } from "./robust-spread.ts";

/** A straight line that a few strays can't turn. Units: those of y over those of x; intercept in those of y. */
export interface TheilSen {
  readonly slope: number;
  /** median(y) − slope × median(x). */
  readonly intercept: number;
  /** Ends of the slope's confidence interval; null where so few points give none: even their extremes say too little. */
  readonly slopeLow: number | null;
  readonly slopeHigh: number | null;
}

/** Slopes of all pairs with different x, sorted. */
function pairSlopes(x: readonly number[], y: readonly number[]): Float64Array {
  const n = x.length;
  const slopes = new Float64Array((n * (n - 1)) / 2);
  let count = 0;
  for (let first = 0; first < n; first += 1) {
    const x1 = x[first] as number;
    const y1 = y[first] as number;
    for (let second = first + 1; second < n; second += 1) {
      const run = (x[second] as number) - x1;
      if (run === 0) continue;
      slopes[count] = ((y[second] as number) - y1) / run;
      count += 1;
    }
  }
  return slopes.subarray(0, count).sort();
}

/**
 * Theil–Sen line: the median of the slopes of all pairs. Theil, Proc. K. Ned. Akad. Wet. A 53 (1950) 386; interval of
 * Sen, J. Am. Stat. Assoc. 63 (1968) 1379, with ties in both; intercept of Conover, Practical Nonparametric Statistics
 * (1980). `confidence` 0.5 to 0.999. Throws OutOfRange: columns of unlike length, over 2000 points, all x equal, a
 * pair steeper than 1e100.
 */
export function theilSen(x: readonly number[], y: readonly number[], confidence = 0.95): TheilSen {
  requireInRange("number of x values", x.length, 2, 2000, "1");
  requireInRange("number of y values", y.length, x.length, x.length, "1", "Each x needs its y.");
  requireInRange("confidence", confidence, 0.5, 0.999, "1");
  const slopes = pairSlopes(x, y);
  requireInRange("number of pairs with different x", slopes.length, 1, Number.MAX_SAFE_INTEGER, "1");
  const steepest = Math.max(Math.abs(slopes[0] as number), Math.abs(slopes.at(-1) as number));
  requireInRange("steepest slope", steepest, 0, 1e100, "1", "Points stand too close in x.");
  const slope = medianOfSorted(slopes);
  const variance = scoreVariance(
    x.length,
    [...tieSizes(x), ...tieSizes(y)].filter((size) => size > 1),
  );
  const half = normalQuantile((1 + confidence) / 2) * Math.sqrt(Math.max(0, variance));
  const last = slopes.length - 1;
  const low = Math.round((slopes.length - half) / 2) - 1;
  const high = Math.round((slopes.length + half) / 2);
  const enough = low >= 0 && high <= last;
  return {
    slope,
    intercept: median(y) - slope * median(x),
    slopeLow: enough ? (slopes[low] as number) : null,
    slopeHigh: enough ? (slopes[high] as number) : null,
  };
}
