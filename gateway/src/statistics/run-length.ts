import { requireInRange } from "../quantities/index.ts";
import { runLengthFunction } from "./integral-equation.ts";
import { normalDensity, normalShare } from "./normal.ts";

/** Longest run length that is told; beyond it double precision says nothing any more. */
const longest = 1e9;

function upperRunLengths(shift: number, allowance: number, limit: number): (head: number) => number {
  return runLengthFunction(
    { from: 0, to: limit, count: 48 },
    (x, u) => normalDensity(x - u + allowance - shift),
    (u) => normalShare(allowance - shift - u),
  );
}

const within = (length: number) => {
  requireInRange("run length", length, 0, longest, "1", "The limits are too wide to tell it.");
  return length;
};

function requireCusum(shift: number, allowance: number, limit: number, headStart: number): void {
  requireInRange("shift", shift, -10, 10, "1");
  requireInRange("allowance", allowance, 0, 5, "1");
  requireInRange("limit", limit, 0.1, 15, "1");
  requireInRange("head start", headStart, 0, 0.99, "1");
}

/**
 * Average number of values until a one-sided (upward) CUSUM signals; shift, allowance and limit in standard deviations of
 * independent normal values, head start as a share of the limit: the integral equation of Page (1954), solved as in
 * Vance, J. Qual. Technol. 18 (1986) 189. Shift -10–10, allowance 0–5, limit 0.1–15. Throws OutOfRange, also where the
 * run is longer than 1e9. Values that depend on those before them signal sooner.
 */
export function oneSidedCusumRunLength(
  shift: number,
  allowance: number,
  limit: number,
  headStart = 0,
): number {
  requireCusum(shift, allowance, limit, headStart);
  return within(upperRunLengths(shift, allowance, limit)(headStart * limit));
}

/**
 * As `oneSidedCusumRunLength`, for both sides at once: Lucas and Crosier, Technometrics 24 (1982) 199, app. A, from
 * the run lengths of the two sides. Throws as it does.
 */
export function cusumRunLength(shift: number, allowance: number, limit: number, headStart = 0): number {
  requireCusum(shift, allowance, limit, headStart);
  const up = upperRunLengths(shift, allowance, limit);
  const down = upperRunLengths(-shift, allowance, limit);
  const head = headStart * limit;
  const [up0, down0] = [up(0), down(0)];
  return within((up(head) * down0 + down(head) * up0 - up0 * down0) / (up0 + down0));
}

/**
 * Siegmund's approximation of `cusumRunLength` without a head start (Sequential Analysis, 1985): some 1 % at a shift of 0
 * to 1 for limits 4 to 5, too short by up to a tenth at 3.
 */
export function siegmundRunLength(shift: number, allowance: number, limit: number): number {
  requireCusum(shift, allowance, limit, 0);
  const b = limit + 1.166;
  const side = (drift: number) =>
    Math.abs(drift) < 1e-6 ? b * b : (Math.exp(-2 * drift * b) + 2 * drift * b - 1) / (2 * drift * drift);
  return within(1 / (1 / side(shift - allowance) + 1 / side(-shift - allowance)));
}

/**
 * Average number of values until an EWMA chart with steady limits signals; shift and width in standard deviations: the
 * integral equation of Crowder, Technometrics 29 (1987) 401. Weight 0.02–1, width 0.1–5, shift -10–10. Throws
 * OutOfRange, also where the run is longer than 1e9.
 */
export function ewmaRunLength(shift: number, weight: number, width: number): number {
  requireInRange("shift", shift, -10, 10, "1");
  requireInRange("weight", weight, 0.02, 1, "1");
  requireInRange("width", width, 0.1, 5, "1");
  const limit = width * Math.sqrt(weight / (2 - weight));
  const lengths = runLengthFunction(
    { from: -limit, to: limit, count: 64 },
    (x, u) => normalDensity((x - (1 - weight) * u) / weight - shift) / weight,
    () => 0,
  );
  return within(lengths(0));
}
