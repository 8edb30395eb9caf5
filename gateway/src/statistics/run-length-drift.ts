import { requireInRange } from "../quantities/index.ts";
import { gaussLegendre } from "./integral-equation.ts";
import { normalShare } from "./normal.ts";

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
  const { nodes, weights } = gaussLegendre(20 + Math.ceil(2 * limit), 0, limit);
  // Where the sum stands and how likely: first all at the head start, then at 0 and at the nodes.
  let now: Chances = { places: [headStart * limit], chances: [1] };
  return sumOfSurvival(drift, (mean) => {
    const off = allowance - mean;
    let atZero = 0;
    now.places.forEach((from, at) => {
      const chance = now.chances[at]!;
      if (chance > farOffChance) atZero += chance * normalShare(off - from);
    });
    const next = stepOn(now, nodes, weights, { perTo: 1, perFrom: 1, off });
    now = { places: [0, ...nodes], chances: [atZero, ...next] };
    return sumOf(now.chances);
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
  const step = { perTo: 1 / weight, perFrom: (1 - weight) / weight };
  let now: Chances = { places: [0], chances: [1] };
  return sumOfSurvival(drift, (mean) => {
    now = { places: nodes, chances: stepOn(now, nodes, weights, { ...step, off: -mean }) };
    return sumOf(now.chances);
  });
}

/** Where a chart's sum or average may stand, and how likely each is. */
interface Chances {
  readonly places: readonly number[];
  readonly chances: readonly number[];
}

const sumOf = (chances: readonly number[]) => chances.reduce((sum, chance) => sum + chance, 0);

/** Standard deviations beyond which a normal value is left out, and the chance below which a place is. */
const farOff = 8.5;
const farOffChance = 1e-17;
const densityAtZero = 1 / Math.sqrt(2 * Math.PI);

/** Chances at the nodes after one more normal value, which is perTo × to - perFrom × from + off. Most of the time goes here. */
function stepOn(
  now: Chances,
  nodes: readonly number[],
  weights: readonly number[],
  step: { readonly perTo: number; readonly perFrom: number; readonly off: number },
): number[] {
  const { places, chances } = now;
  return nodes.map((to, node) => {
    const base = step.perTo * to + step.off;
    let sum = 0;
    for (let at = 0; at < places.length; at += 1) {
      const value = base - step.perFrom * places[at]!;
      if (value < farOff && value > -farOff) sum += chances[at]! * Math.exp(-0.5 * value * value);
    }
    return sum * weights[node]! * step.perTo * densityAtZero;
  });
}
