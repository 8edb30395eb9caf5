import { requireInRange } from "../quantities/index.ts";
import { normalQuantile } from "./normal.ts";

const requireSome = (values: readonly number[]) =>
  requireInRange("number of values", values.length, 1, Number.MAX_SAFE_INTEGER, "1");

/** Up to so many values are sorted faster by insertion than by the engine. */
const maxInsertion = 24;

/** Where few values are sorted that nobody keeps: a column of their own would cost more than to sort them. */
const desk = new Float64Array(maxInsertion);

/** Sorts the first `count` numbers of a column; those behind them stay. */
function sortFirst(column: Float64Array, count: number): void {
  if (count > maxInsertion) {
    column.subarray(0, count).sort();
    return;
  }
  for (let index = 0; index < count; index += 1) {
    const value = column[index] as number;
    // Not a number has no place by comparison: the engine puts it last.
    if (Number.isNaN(value)) {
      column.subarray(0, count).sort();
      return;
    }
    let at = index - 1;
    for (; at >= 0 && (column[at] as number) > value; at -= 1) column[at + 1] = column[at] as number;
    column[at + 1] = value;
  }
}

/** The values from least to greatest, in a column of their own. */
export function sorted(values: ArrayLike<number>): Float64Array {
  const column = new Float64Array(values);
  sortFirst(column, column.length);
  return column;
}

/** Median of the first `count` numbers of a column, which sorts them where they are. Throws OutOfRange for none. */
export function medianInPlace(column: Float64Array, count: number): number {
  requireInRange("number of values", count, 1, column.length, "1");
  sortFirst(column, count);
  return quantileOfSorted(column, 0.5, count);
}

/** `quantile` of numbers, the first `count` of a column, that are sorted already; at least one. */
export function quantileOfSorted(column: Float64Array, share: number, count = column.length): number {
  const place = (count - 1) * share;
  const below = column[Math.floor(place)] as number;
  const above = column[Math.ceil(place)] as number;
  return below + (above - below) * (place - Math.floor(place));
}

/** Median of numbers that are sorted already; at least one. */
export function medianOfSorted(column: Float64Array): number {
  return quantileOfSorted(column, 0.5);
}

/**
 * The value at or below which lies `share` (0 to 1) of the values, with a straight line between neighbours: type 7 of
 * Hyndman and Fan, The American Statistician 50 (1996) 361. Throws OutOfRange for no values.
 */
export function quantile(values: readonly number[], share: number): number {
  requireSome(values);
  requireInRange("share", share, 0, 1, "1");
  const { length } = values;
  if (length > maxInsertion) return quantileOfSorted(sorted(values), share);
  for (let index = 0; index < length; index += 1) desk[index] = values[index] as number;
  sortFirst(desk, length);
  return quantileOfSorted(desk, share, length);
}

/** Median; half-way between the middle two of an even number. Throws OutOfRange for no values. */
export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

/** Where values lie and how far they scatter, told without being pulled along by a few strays. */
export interface RobustSpread {
  readonly median: number;
  readonly lowerQuartile: number;
  readonly upperQuartile: number;
  /** Median distance from the median. */
  readonly medianDeviation: number;
  /** Standard deviation that the median distance stands for where the scatter is normal. */
  readonly deviationOfMedianDeviation: number;
  /** Standard deviation that the distance of the quartiles stands for where the scatter is normal. */
  readonly deviationOfQuartiles: number;
}

const quartileZ = normalQuantile(0.75);

/**
 * Median, quartiles and median absolute deviation (Hampel, J. Am. Stat. Assoc. 69 (1974) 383), each with the normal
 * standard deviation it stands for: × 1.4826 and ÷ 1.349. In the values' unit. Throws OutOfRange for no values.
 */
export function robustSpread(values: readonly number[]): RobustSpread {
  requireSome(values);
  const column = sorted(values);
  const middle = medianOfSorted(column);
  const lowerQuartile = quantileOfSorted(column, 0.25);
  const upperQuartile = quantileOfSorted(column, 0.75);
  const medianDeviation = medianOfSorted(column.map((value) => Math.abs(value - middle)).sort());
  return {
    median: middle,
    lowerQuartile,
    upperQuartile,
    medianDeviation,
    deviationOfMedianDeviation: medianDeviation / quartileZ,
    deviationOfQuartiles: (upperQuartile - lowerQuartile) / (2 * quartileZ),
  };
}
