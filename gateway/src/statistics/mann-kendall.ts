import { requireInRange } from "../quantities/index.ts";
import { erfc } from "./normal.ts";
import { sorted } from "./robust-spread.ts";

/** Whether values rise or fall on the whole. */
export interface MannKendall {
  /** Pairs that rise less pairs that fall. */
  readonly score: number;
  /** Variance of the score where there is no trend, ties allowed for. */
  readonly variance: number;
  readonly z: number;
  /** Two-sided probability of a score as far from 0 where there is no trend; 1 where all values are equal. */
  readonly p: number;
  /** Score over the number of pairs: -1 always falls, 1 always rises. */
  readonly tau: number;
}

/** Sizes of the groups of equal values. */
export function tieSizes(values: readonly number[]): number[] {
  const sizes: number[] = [];
  let last: number | undefined;
  for (const value of sorted(values)) {
    if (value === last) sizes.push((sizes.pop() ?? 0) + 1);
    else sizes.push(1);
    last = value;
  }
  return sizes;
}

/** Variance of Mann–Kendall's score of `n` values with groups of equals: Kendall, Rank Correlation Methods (1975). */
export function scoreVariance(n: number, ties: readonly number[]): number {
  const weight = (count: number) => count * (count - 1) * (2 * count + 5);
  return (weight(n) - ties.reduce((sum, size) => sum + weight(size), 0)) / 18;
}

/**
 * Mann–Kendall trend test of values in their order, with ties and continuity correction: Mann, Econometrica 13 (1945)
 * 245; Kendall (1975). Values that depend on those before them make p too small. Throws OutOfRange for fewer than 3.
 */
export function mannKendall(values: readonly number[]): MannKendall {
  const n = values.length;
  requireInRange("number of values", n, 3, 100_000, "1");
  let score = 0;
  for (let first = 0; first < n; first += 1) {
    const earlier = values[first] as number;
    for (let second = first + 1; second < n; second += 1)
      score += Math.sign((values[second] as number) - earlier);
  }
  const variance = scoreVariance(n, tieSizes(values));
  const z = variance > 0 ? (Math.sign(score) * Math.max(0, Math.abs(score) - 1)) / Math.sqrt(variance) : 0;
  return { score, variance, z, p: erfc(Math.abs(z) / Math.SQRT2), tau: score / ((n * (n - 1)) / 2) };
}
