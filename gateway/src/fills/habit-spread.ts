import { median, robustSpread, studentT } from "../statistics/index.ts";

const share = 0.95;
/** Before so many values, nothing is said of their spread. */
const enoughForSpread = 5;

const steps = new Map<number, number>();

/** One-sided Student's t of 95 % at so many degrees of freedom. */
function oneSided(freedom: number): number {
  const known = steps.get(freedom) ?? studentT(2 * share - 1, freedom);
  steps.set(freedom, known);
  return known;
}

/** Logarithms of what is over 0: fills vary by factors, not by litres. */
const logsOf = (values: readonly number[]): number[] =>
  values.filter((value) => value > 0).map((value) => Math.log(value));

/** Where most values of a drum lie, whatever a few of them reach: what is much greater is of another kind. */
export interface Bulk {
  /** Up to here, in the values' unit; 0 where it is not known. */
  readonly most: number;
  /** How far one lies over their centre, as a logarithm: t s, s by their median deviation. */
  readonly reach: number;
}

/** Where most of these values lie; not known before 5. */
export function bulkOf(values: readonly number[]): Bulk {
  const usual = values.filter((value) => value > 0);
  if (usual.length < enoughForSpread) return { most: 0, reach: 0 };
  const reach = oneSided(usual.length - 1) * robustSpread(logsOf(usual)).deviationOfMedianDeviation;
  return { most: median(usual) * Math.exp(reach), reach };
}

/**
 * What the next value of a habit stays under with 95 %, in the values' unit, of which a few are known: the prediction bound
 * of a log-normal sample (Hahn and Meeker, Statistical Intervals, 1991, 4.7: mean + t s √(1 + 1/n)), with the spread that
 * the drum's other fills have, since two noons tell little of the third's. 0 of none.
 */
export function mostOfHabit(values: readonly number[], reach: number): number {
  const known = values.filter((value) => value > 0);
  const [first] = known;
  if (first === undefined) return 0;
  const logs = logsOf(known.map((value) => value / first));
  const centre = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  return first * Math.exp(centre + reach * Math.sqrt(1 + 1 / logs.length));
}

/** 95th percentile by nearest rank: of less than 20 values the greatest. */
export function nearestRank(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.ceil(0.95 * sorted.length) - 1] as number;
}
