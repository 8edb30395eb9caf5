import { requireInRange } from "../quantities/index.ts";
import { gaussLegendre } from "./integral-equation.ts";
import { normalDensity, normalShare } from "./normal.ts";

/** A drift that starts with the chart: each value's mean lies one step further off than the one before it. */
export interface Drift {
  /** Step of the mean from value to value, in standard deviations of a value. */
  readonly perValue: number;
  /** The first value still lies on target (Gan's reckoning); else it is one step off already. */
  readonly firstOnTarget?: boolean;
}

/** Chance below which what is left of a run adds nothing that is told. */
const negligible = 1e-13;

function requireDrift(drift: Drift): void {
  requireInRange("drift", drift.perValue, 0.001, 10, "1");
}

/** Sum over values of the chance that the chart has not signalled yet, which is the average run length. */
function sumOfSurvival(drift: Drift, survivalAfter: (mean: number) => number): number {
  let [length, alive, mean] = [1, 1, drift.firstOnTarget ? 0 : drift.perValue];
  while (alive > negligible) {
    alive = survivalAfter(mean);
    length += alive;
    mean += drift.perValue;
  }
  return length;
}

/**
 * Average number of values until a one-sided (upward) CUSUM signals when the mean drifts upward from the first value on:
 * Gan, The Statistician 41 (1992) 71, reckoned from the sum's distribution after each value (Knoth, Sequential Analysis
 * 22 (2003) 241). Independent normal values; allowance 0–2 and limit 0.1–10 in standard deviations, drift 0.001–10 a
 * value, head start as a share of the limit. Throws OutOfRange. A sum for the other side adds its false alarms only.
 */
export function cusumDriftRunLength(drift: Drift, allowance: number, limit: number, headStart = 0): number {
  requireDrift(drift);
  requireInRange("allowance", allowance, 0, 2, "1");
  requireInRange("limit", limit, 0.1, 10, "1");
  requireInRange("head start", headStart, 0, 0.99, "1");
  const { nodes, weights } = gaussLegendre(24 + Math.ceil(2 * limit), 0, limit);
  // Where the sum stands and how likely: first all at the head start, then at 0 and at the nodes.
  let places: readonly number[] = [headStart * limit];
  let chances: readonly number[] = [1];
  return sumOfSurvival(drift, (mean) => {
    const off = allowance - mean;
    const atZero = sumOver(places, chances, (from) => normalShare(off - from));
    const atNodes = nodes.map(
      (to, at) => weights[at]! * sumOver(places, chances, (from) => normalDensity(to - from + off)),
    );
    places = [0, ...nodes];
    chances = [atZero, ...atNodes];
    return chances.reduce((sum, chance) => sum + chance, 0);
  });
}

/**
 * Average number of values until a two-sided EWMA chart with steady limits signals when the mean drifts from the first
 * value on: Gan, J. Stat. Comput. Simul. 38 (1991) 181; Aerne, Champ and Rigdon, Commun. Stat. Theory Methods 20 (1991)
 * 3341. Independent normal values; weight 0.02–1, width 0.1–5 deviations of the average, drift 0.001–10 standard
 * deviations a value. Throws OutOfRange.
 */
export function ewmaDriftRunLength(drift: Drift, weight: number, width: number): number {
  requireDrift(drift);
  requireInRange("weight", weight, 0.02, 1, "1");
  requireInRange("width", width, 0.1, 5, "1");
  const limit = width * Math.sqrt(weight / (2 - weight));
  const { nodes, weights } = gaussLegendre(24 + Math.ceil(limit / weight), -limit, limit);
  let places: readonly number[] = [0];
  let chances: readonly number[] = [1];
  return sumOfSurvival(drift, (mean) => {
    const density = (to: number) =>
      sumOver(places, chances, (from) => normalDensity((to - (1 - weight) * from) / weight - mean)) / weight;
    chances = nodes.map((to, at) => weights[at]! * density(to));
    places = nodes;
    return chances.reduce((sum, chance) => sum + chance, 0);
  });
}

function sumOver(
  places: readonly number[],
  chances: readonly number[],
  share: (from: number) => number,
): number {
  let sum = 0;
  for (let at = 0; at < places.length; at += 1) sum += chances[at]! * share(places[at]!);
  return sum;
}
