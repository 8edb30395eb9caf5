import { requireInRange } from "../quantities/index.ts";

/** A least-squares straight line, with standard errors (null for two points: nothing is left over). */
export interface StraightLine {
  readonly slope: number;
  readonly intercept: number;
  readonly slopeError: number | null;
  readonly interceptError: number | null;
  /** Share of y's variation that the line explains; null where y does not vary: there is nothing to explain. */
  readonly rSquared: number | null;
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Least-squares straight line of y over x. Throws OutOfRange: columns of unlike length, fewer than 2, all x equal. */
export function straightLine(x: readonly number[], y: readonly number[]): StraightLine {
  requireInRange("number of x values", x.length, 2, Number.MAX_SAFE_INTEGER, "1");
  requireInRange("number of y values", y.length, x.length, x.length, "1", "Each x needs its y.");
  const meanX = mean(x);
  const meanY = mean(y);
  const dx = x.map((value) => value - meanX);
  const dy = y.map((value) => value - meanY);
  const sum = (a: readonly number[], b: readonly number[]) =>
    a.reduce((total, value, place) => total + value * (b[place] as number), 0);
  const xx = sum(dx, dx);
  requireInRange("sum of squares of x", xx, 1e-100, 1e100, "1", "Every x is the same.");
  const slope = sum(dx, dy) / xx;
  const left = dy.map((value, place) => value - slope * (dx[place] as number));
  const yy = sum(dy, dy);
  const squaresLeft = sum(left, left);
  const variance = x.length > 2 ? squaresLeft / (x.length - 2) : null;
  return {
    slope,
    intercept: meanY - slope * meanX,
    slopeError: variance === null ? null : Math.sqrt(variance / xx),
    interceptError: variance === null ? null : Math.sqrt(variance * (1 / x.length + meanX ** 2 / xx)),
    rSquared: yy > 0 ? 1 - squaresLeft / yy : null,
  };
}
