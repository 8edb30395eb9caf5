import { z } from "zod";
import { requireInRange } from "../../quantities/index.ts";
import { bedCapacity } from "../resin/bed-capacity.ts";
import { fitBreakthrough, volumeAtShare, volumeOfShare } from "../resin/breakthrough.ts";
import { unusedBedM } from "../resin/unused-bed.ts";
import { type WholeBed, wholeAtLeast, wholeBed } from "../resin/whole-bed.ts";
import { about, requireSameLength } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

/** A list of numbers of one unit, 1 to 1000. */
export const numberList = (unit: string, min: number, max: number, description: string) =>
  z
    .array(quantity(unit, min, max, description))
    .min(1)
    .max(1000);

/** Where the logistic curve of a bed comes from. */
export const yoonNelson =
  "Yoon and Nelson (1984), Thomas (1944); review Xu, Cai and Pan, J. Zhejiang Univ. Sci. A 14 (2013) 155";

/** A fit, or why there is none. */
export const fitOutcome = z
  .enum(["good", "too-few-points", "not-finite", "not-rising", "no-convergence"])
  .meta({ description: "a fit, or why there is none" });

/** Two lists of one length as pairs, in order of the first. */
export function pairsOf(xs: readonly number[], ys: readonly number[]) {
  return xs.map((x, place) => ({ x, y: ys[place] as number })).sort((one, other) => one.x - other.x);
}

const curveOutputs = {
  rate: result("/L", "rate").optional(),
  rateError: result("/L", "its standard error").optional(),
  half: result("L", "volume at half of the feed").optional(),
  halfError: result("L", "its standard error").optional(),
  halfLow: result("L", "lower end of its interval").optional(),
  halfHigh: result("L", "upper end of its interval").optional(),
  residualSumOfSquares: result("1", "residual sum of squares").optional(),
  rSquared: result("1", "share of the points' variation that the curve explains").optional(),
  sure: z
    .boolean()
    .meta({ description: "the rise is greater than the points' scatter, at that confidence" })
    .optional(),
  asked: result("L", "volume at the asked share; none where the curve can't tell it").nullable().optional(),
  by: z
    .enum(["points", "curve", "before-start", "contradicted"])
    .meta({
      description:
        "what gave it, or why none: the curve puts it before 0, or where a point shows another share",
    })
    .optional(),
  byCurve: result("L", "what the curve alone says").optional(),
};
const wholeOutputs = {
  whole: result("L", "volume of a bed used whole: integral of 1 - share from 0 on").optional(),
  wholeLow: result("L", "lower end of its interval; the least, where there is no fit").optional(),
  wholeHigh: result("L", "upper end; none where only the foot was seen").nullable().optional(),
  wholeBefore: result("L", "of it before the first point, by the curve").optional(),
  wholeMeasured: result("L", "of it between the points").optional(),
  wholeAfter: result("L", "of it after the last point, by the curve").optional(),
  wholeBy: z
    .enum(["points", "curve", "foot"])
    .meta({
      description:
        "points: the curve changes it by under 1 %; foot: no point passed a tenth of the feed, only the lower end is known",
    })
    .optional(),
};
const capacityOutputs = {
  capacity: result("eq", "what the bed holds used whole; left out where only the foot was seen").optional(),
  capacityLow: result("eq", "the least that it holds").optional(),
  capacityPerLitre: result("eq/L", "the same, over a litre of bed").optional(),
  capacityPerKg: result("eq/kg", "the same, over a kilogram of resin").optional(),
  held: result("g", "what the bed holds used whole, of what the concentration is of").optional(),
  heldLow: result("g", "the least of that").optional(),
  heldPerLitre: result("g/L", "the same, over a litre of bed").optional(),
  heldPerKg: result("g/kg", "the same, over a kilogram of resin").optional(),
  usedShare: result(
    "1",
    "asked volume over whole volume: share of the bed used at the asked share",
  ).optional(),
  unused: result("m", "length of unused bed at the asked share").optional(),
};

interface BedGiven {
  readonly load?: number | undefined;
  readonly concentration?: number | undefined;
  readonly bed?: number | undefined;
  readonly mass?: number | undefined;
  readonly depth?: number | undefined;
}

/** More than any resin holds, as in converting capacities. */
const maxEqPerL = 10;

/** Capacities and unused length, each where what it needs was given; of the foot alone only the least. */
function ofBed(given: BedGiven, { volumeL: wholeL, lowL, by }: WholeBed, askedL: number | null) {
  const size = { bedL: given.bed, massKg: given.mass };
  const { load, concentration } = given;
  const least = {
    capacityLow: load === undefined ? undefined : bedCapacity(lowL, load, size).whole,
    heldLow: concentration === undefined ? undefined : bedCapacity(lowL, concentration, size).whole,
  };
  if (by === "foot") return least;
  const eq = load === undefined ? null : bedCapacity(wholeL, load, size);
  const hint = "No resin holds so much: load, bed or volumes are wrong.";
  about("load, bed", () => requireInRange("capacity", eq?.perLitre ?? 0, 0, maxEqPerL, "eq/L", hint));
  const grams = concentration === undefined ? null : bedCapacity(wholeL, concentration, size);
  const used = askedL !== null && askedL <= wholeL;
  return {
    ...least,
    capacity: eq?.whole,
    capacityPerLitre: eq?.perLitre ?? undefined,
    capacityPerKg: eq?.perKg ?? undefined,
    held: grams?.whole,
    heldPerLitre: grams?.perLitre ?? undefined,
    heldPerKg: grams?.perKg ?? undefined,
    usedShare: used ? askedL / wholeL : undefined,
    unused: used && given.depth !== undefined ? unusedBedM(given.depth, askedL, wholeL) : undefined,
  };
}

/** Only what is there: an output that could not be given is left out. */
function present<Values extends object>(values: Values): Values {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Values;
}

/** The curve of a bed, what the bed holds used whole, and how much of that was measured. */
export const breakthroughFitFormula = defineFormula({
  id: "breakthrough-fit",
  title: "Breakthrough curve of a bed: volumes at a share, capacity, length of unused bed",
  source: yoonNelson,
  holds:
    "Three or more points, volumes counted from a fresh bed. At the foot the curve is early: where points have passed the share, they are taken instead. What the bed holds beyond the points is the curve's, and may be half or twice of it.",
  example: {
    volume: [500, 1000, 1250, 1500, 1750, 2000, 2500],
    share: [0.02, 0.12, 0.27, 0.5, 0.73, 0.88, 0.98],
    at: "5 %",
    load: 4.8,
    bed: 15,
  },
  inputs: {
    volume: numberList("L", 0, 1e9, "treated volumes (or any one measure of the run), from a fresh bed on"),
    share: numberList("1", -1, 10, "shares of the feed"),
    at: quantity("1", 0.001, 0.999, "share whose volume is asked for").default(0.01),
    confidence: quantity("1", 0.01, 0.999, "confidence of the intervals").default(0.95),
    load: quantity("meq/L", 0, 1e6, "load of the feed, for the capacity").optional(),
    concentration: quantity("mg/L", 0, 1e6, "concentration in the feed, for what is held").optional(),
    bed: quantity("L", 1e-5, 100_000, "resin in the bed").optional(),
    mass: quantity("kg", 1e-5, 100_000, "mass of the resin").optional(),
    depth: quantity("m", 0.001, 100, "depth of the bed, for its unused length").optional(),
  },
  outputs: { outcome: fitOutcome, ...curveOutputs, ...wholeOutputs, ...capacityOutputs },
  compute: (given) => {
    requireSameLength({ volume: given.volume, share: given.share });
    const points = pairsOf(given.volume, given.share).map(({ x, y }) => ({ volumeL: x, share: y }));
    const fit = fitBreakthrough(points, given.confidence);
    if (!fit.ok) return present({ outcome: fit.code, wholeLow: wholeAtLeast(points) ?? undefined });
    const { curve } = fit;
    const asked = volumeAtShare(points, curve, given.at);
    const whole = wholeBed(points, curve);
    return present({
      outcome: "good" as const,
      rate: curve.ratePerL,
      rateError: curve.rateStandardErrorPerL,
      half: curve.halfL,
      halfError: curve.halfStandardErrorL,
      halfLow: curve.halfIntervalL[0],
      halfHigh: curve.halfIntervalL[1],
      residualSumOfSquares: curve.residualSumOfSquares,
      rSquared: curve.rSquared,
      sure: curve.ratePerL > curve.studentT * curve.rateStandardErrorPerL,
      asked: asked.volumeL,
      by: asked.by,
      byCurve: volumeOfShare(curve, given.at),
      whole: whole.volumeL,
      wholeLow: whole.lowL,
      wholeHigh: whole.highL,
      wholeBefore: whole.beforeL,
      wholeMeasured: whole.measuredL,
      wholeAfter: whole.afterL,
      wholeBy: whole.by,
      ...ofBed(given, whole, asked.volumeL),
    });
  },
});
