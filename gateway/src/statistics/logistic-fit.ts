/** One observation. */
export interface LogisticPoint {
  readonly x: number;
  readonly y: number;
}

/** A fitted curve y = top / (1 + exp(-rate (x - middle))), with standard errors of the linearised least squares. */
export interface LogisticCurve {
  readonly top: number;
  readonly rate: number;
  /** Where y is half of the top. */
  readonly middle: number;
  /** Of top (0 where it was given), rate, middle, and of `offset`. */
  readonly standardErrors: {
    readonly top: number;
    readonly rate: number;
    readonly middle: number;
    readonly offset: number;
  };
  /** Covariance of rate and middle: with their errors, what the error of any point of the curve needs. */
  readonly rateMiddleCovariance: number;
  /** rate × middle: b2 of the form b1 / (1 + exp(b2 - b3 x)). */
  readonly offset: number;
  readonly residualSumOfSquares: number;
  readonly residualSd: number;
  readonly degreesOfFreedom: number;
}

/** A fit, or why there is none. */
export type LogisticFit =
  | { readonly ok: true; readonly curve: LogisticCurve }
  | { readonly ok: false; readonly code: LogisticRefusal; readonly message: string };

/** Why a curve could not be fitted. */
export type LogisticRefusal = "too-few-points" | "not-finite" | "not-rising" | "no-convergence";

/** Rate over the whole span of x under which a curve is flat: it would put its ends beyond all sense. */
const leastRise = 1e-6;

type Parameters = [rate: number, middle: number, top: number];

const refuse = (code: LogisticRefusal, message: string): LogisticFit => ({ ok: false, code, message });

function valueAt([rate, middle, top]: Parameters, x: number): number {
  return top / (1 + Math.exp(-rate * (x - middle)));
}

function squares(points: readonly LogisticPoint[], parameters: Parameters): number {
  let sum = 0;
  for (const { x, y } of points) sum += (y - valueAt(parameters, x)) ** 2;
  return sum;
}

/** J'J and J'r of the residuals, for rate, middle and top, as a row-major 3 × 3. */
function normalEquations(points: readonly LogisticPoint[], parameters: Parameters) {
  const [rate, middle, top] = parameters;
  const matrix = new Array<number>(9).fill(0);
  const right = [0, 0, 0];
  for (const { x, y } of points) {
    const share = 1 / (1 + Math.exp(-rate * (x - middle)));
    const slope = top * share * (1 - share);
    const gradient = [slope * (x - middle), -slope * rate, share];
    const residual = y - top * share;
    for (let row = 0; row < 3; row += 1) {
      const of = gradient[row] as number;
      right[row] = (right[row] as number) + of * residual;
      for (let column = 0; column < 3; column += 1)
        matrix[row * 3 + column] = (matrix[row * 3 + column] as number) + of * (gradient[column] as number);
    }
  }
  return { matrix, right };
}

/** Inverse of the upper-left `size` × `size` block of a row-major 3 × 3, Gauss–Jordan with pivots; null where singular. */
function inverse(matrix: readonly number[], size: number): number[][] | null {
  const rows = Array.from({ length: size }, (_, row) => [
    ...matrix.slice(row * 3, row * 3 + size),
    ...Array.from({ length: size }, (_unit, column) => (column === row ? 1 : 0)),
  ]);
  for (let pivot = 0; pivot < size; pivot += 1) {
    const below = rows.slice(pivot);
    const best = below.reduce((one, other) =>
      Math.abs(other[pivot] as number) > Math.abs(one[pivot] as number) ? other : one,
    );
    const scale = best[pivot] as number;
    if (!(Math.abs(scale) > 1e-300)) return null;
    rows.splice(rows.indexOf(best), 1);
    const normal = best.map((value) => value / scale);
    rows.splice(pivot, 0, normal);
    for (const [place, row] of rows.entries()) {
      if (place === pivot) continue;
      const factor = row[pivot] as number;
      rows[place] = row.map((value, column) => value - factor * (normal[column] as number));
    }
  }
  return rows.map((row) => row.slice(size));
}

/** The best of a coarse grid: least squares of a logistic has poor valleys, and a start in the right one is all it needs. */
function startOf(points: readonly LogisticPoint[], top: number): Parameters {
  let best: Parameters = [5, 0.5, top];
  let least = Number.POSITIVE_INFINITY;
  for (const rate of [1, 2, 5, 10, 20, 50, 100]) {
    for (let middle = -0.5; middle <= 2; middle += 0.05) {
      const sum = squares(points, [rate, middle, top]);
      if (sum < least) {
        least = sum;
        best = [rate, middle, top];
      }
    }
  }
  return best;
}

/** Levenberg and Marquardt from a start, over x scaled to 0–1. Null where it does not settle. */
function settle(points: readonly LogisticPoint[], start: Parameters, size: number): Parameters | null {
  let parameters = start;
  let sum = squares(points, parameters);
  let damping = 1e-3;
  for (let round = 0; round < 500; round += 1) {
    const { matrix, right } = normalEquations(points, parameters);
    const damped = matrix.map((value, place) => (place % 4 === 0 ? value * (1 + damping) : value));
    const solved = inverse(damped, size);
    if (!solved) return null;
    const step = [0, 0, 0].map((_, row) =>
      row < size
        ? (solved[row] as number[]).reduce(
            (total, value, column) => total + value * (right[column] as number),
            0,
          )
        : 0,
    );
    const next = parameters.map((value, place) => value + (step[place] as number)) as Parameters;
    const nextSum = squares(points, next);
    const small = step.every(
      (value, place) => Math.abs(value) <= 1e-11 * (Math.abs(parameters[place] as number) + 1e-11),
    );
    if (nextSum <= sum) {
      parameters = next;
      sum = nextSum;
      damping = Math.max(1e-12, damping / 10);
      if (small) return parameters;
    } else {
      if (small) return parameters;
      damping *= 10;
      if (damping > 1e12) return null;
    }
  }
  return null;
}

/**
 * Least squares of a rising logistic through at least one point more than it has parameters: Levenberg (1944) and
 * Marquardt (1963); errors from the linearised problem at the optimum. With `top` given (1 for a share of the feed)
 * two parameters are fitted, else three; a top that the points do not reach is refused as `no-convergence` rather
 * than guessed at.
 */
export function logisticFit(points: readonly LogisticPoint[], top?: number): LogisticFit {
  const size = top === undefined ? 3 : 2;
  if (points.length <= size)
    return refuse(
      "too-few-points",
      `${points.length} points; a curve of ${size} parameters needs ${size + 1}.`,
    );
  if (
    !points.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y)) ||
    !(top === undefined || top > 0)
  )
    return refuse("not-finite", "Every x and y must be a finite number, and a given top above 0.");
  const xs = points.map(({ x }) => x);
  const low = Math.min(...xs);
  const span = Math.max(...xs) - low;
  const greatest = Math.max(...points.map(({ y }) => y));
  const distinct = new Set(xs).size;
  if (distinct < size)
    return refuse("too-few-points", `${distinct} different x; a curve of ${size} parameters needs ${size}.`);
  if (!(greatest > 0)) return refuse("not-rising", "No y is above 0: there is nothing that rises.");
  const scaled = points.map(({ x, y }) => ({ x: (x - low) / span, y: y / greatest }));
  const fixedTop = top === undefined ? undefined : top / greatest;
  const found = settle(scaled, startOf(scaled, fixedTop ?? 1.02), size);
  if (!found?.every(Number.isFinite) || (fixedTop === undefined && found[2] > 100))
    return refuse(
      "no-convergence",
      "The points do not settle a curve: they may show only its foot or its top.",
    );
  if (!(found[0] > leastRise)) return refuse("not-rising", "The points don't rise: a breakthrough does.");
  return curveOf(scaled, found, size, { low, span, greatest });
}

function curveOf(
  scaled: readonly LogisticPoint[],
  found: Parameters,
  size: number,
  { low, span, greatest }: { low: number; span: number; greatest: number },
): LogisticFit {
  const { matrix, right } = normalEquations(scaled, found);
  const covariance = inverse(matrix, size);
  if (!covariance) return refuse("no-convergence", "The points do not settle the curve's parameters apart.");
  const degreesOfFreedom = scaled.length - size;
  const sum = squares(scaled, found);
  // What the last undamped step would still win: at an optimum nothing (the relative offset of Bates and Watts, 1981).
  const toWin = right
    .slice(0, size)
    .reduce(
      (total, one, row) =>
        total +
        right
          .slice(0, size)
          .reduce((inner, other, column) => inner + one * other * (covariance[row]?.[column] ?? 0), 0),
      0,
    );
  if (!(toWin <= 1e-8 * sum + 1e-18))
    return refuse(
      "no-convergence",
      "The points do not settle a curve: the search ended short of an optimum.",
    );
  const variance = sum / degreesOfFreedom;
  const of = (row: number, column: number) => variance * (covariance[row]?.[column] ?? 0);
  const [rate, middle] = [found[0] / span, low + span * found[1]];
  const [rateError, middleError] = [Math.sqrt(of(0, 0)) / span, Math.sqrt(of(1, 1)) * span];
  const rateMiddleCovariance = of(0, 1);
  const offsetVariance =
    (middle * rateError) ** 2 + (rate * middleError) ** 2 + 2 * rate * middle * rateMiddleCovariance;
  const curve: LogisticCurve = {
    top: found[2] * greatest,
    rate,
    middle,
    standardErrors: {
      top: Math.sqrt(of(2, 2)) * greatest,
      rate: rateError,
      middle: middleError,
      offset: Math.sqrt(Math.max(0, offsetVariance)),
    },
    rateMiddleCovariance,
    offset: rate * middle,
    residualSumOfSquares: sum * greatest * greatest,
    residualSd: Math.sqrt(variance) * greatest,
    degreesOfFreedom,
  };
  const { standardErrors, ...rest } = curve;
  const numbers = [...Object.values(rest), ...Object.values(standardErrors)];
  if (!numbers.every(Number.isFinite))
    return refuse("no-convergence", "The points do not settle the curve's parameters apart.");
  return { ok: true, curve };
}

/** y of a fitted curve at x. */
export function logisticAt({ rate, middle, top }: LogisticCurve, x: number): number {
  return valueAt([rate, middle, top], x);
}
