import { z } from "zod";
import { OutOfRange } from "../../quantities/index.ts";
import { logisticFit, studentT } from "../../statistics/index.ts";
import {
  fitBreakthrough,
  shareOfFeed,
  volumeAtShare,
  volumeOfShare,
  wholeVolume,
} from "../resin/breakthrough.ts";
import { breakOfDepth, depthOfBreak, unusedBedM } from "../resin/unused-bed.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const list = (unit: string, min: number, max: number, description: string) =>
  z
    .array(quantity(unit, min, max, description))
    .min(1)
    .max(1000);
const confidence = quantity("1", 0.01, 0.999, "confidence of the interval").default(0.95);
const yoonNelson =
  "Yoon and Nelson (1984), Thomas (1944); review Xu, Cai and Pan, J. Zhejiang Univ. Sci. A 14 (2013) 155";
const constantPattern =
  "constant-pattern design: McCabe, Smith and Harriott, Unit Operations, ch. on adsorption";
const depth = quantity("m", 0.001, 100, "depth of the bed");
const breakAt = quantity("1", 1e-9, 1e12, "time or volume at the break");
const usedShare = quantity("1", 0.001, 1, "share of the bed that is used at the break");
const refusals = ["too-few-points", "not-finite", "not-rising", "no-convergence"] as const;
const outcome = z.enum(["good", ...refusals]).meta({ description: "a fit, or why there is none" });

function pointsOf(xs: readonly number[], ys: readonly number[]) {
  if (xs.length !== ys.length) throw new OutOfRange("number of values", ys.length, xs.length, xs.length, "1");
  return xs.map((x, place) => ({ x, y: ys[place] as number })).sort((one, other) => one.x - other.x);
}

/** Breakthrough of beds, and the statistics behind it. */
export const breakthroughFormulas = [
  defineFormula({
    id: "logistic-fit",
    title: "Logistic curve through points by least squares, with standard errors",
    source: "Levenberg (1944), Marquardt (1963); checked by NIST StRD Rat42",
    holds: "y = top / (1 + exp(offset - rate x)). One point more than parameters: 4, or 3 with a given top.",
    inputs: {
      x: list("1", -1e9, 1e9, "x"),
      y: list("1", -1e9, 1e9, "y"),
      top: quantity("1", 1e-9, 1e9, "top; left out: fitted").optional(),
    },
    outputs: {
      outcome,
      top: result("1", "top").optional(),
      topError: result("1", "its standard error").optional(),
      offset: result("1", "offset").optional(),
      offsetError: result("1", "its standard error").optional(),
      rate: result("1", "rate").optional(),
      rateError: result("1", "its standard error").optional(),
      middle: result("1", "x at half of the top").optional(),
      middleError: result("1", "its standard error").optional(),
      residualSumOfSquares: result("1", "residual sum of squares").optional(),
      residualSd: result("1", "residual standard deviation").optional(),
    },
    compute: (given) => {
      const fit = logisticFit(pointsOf(given.x, given.y), given.top);
      if (!fit.ok) return { outcome: fit.code };
      const { top, offset, rate, middle, standardErrors, residualSumOfSquares, residualSd } = fit.curve;
      return {
        outcome: "good" as const,
        top,
        topError: standardErrors.top,
        offset,
        offsetError: standardErrors.offset,
        rate,
        rateError: standardErrors.rate,
        middle,
        middleError: standardErrors.middle,
        residualSumOfSquares,
        residualSd,
      };
    },
  }),
  defineFormula({
    id: "student-t",
    title: "Student's t for an interval of a confidence",
    source: "Abramowitz and Stegun (1964) 26.7.3, 26.7.4",
    holds: "Two-sided; 1 to 10,000 whole degrees of freedom.",
    inputs: {
      confidence: quantity("1", 0.01, 0.999, "confidence"),
      freedom: quantity("1", 1, 10_000, "degrees of freedom"),
    },
    outputs: { t: result("1", "multiple of the standard error") },
    compute: (given) => ({ t: studentT(given.confidence, given.freedom) }),
  }),
  defineFormula({
    id: "share-of-feed",
    title: "Share of the feed that a bed lets through, from conductivities",
    source: "C/C0 with the fresh bed as nought (definition)",
    holds: "All at 25 °C. Over 1 is no fault by itself: a better-held ion pushes another out.",
    inputs: {
      after: quantity("uS/cm", 0, 1_000_000, "reference conductivity after the bed"),
      feed: quantity("uS/cm", 0, 1_000_000, "of the feed"),
      fresh: quantity("uS/cm", 0, 1_000_000, "after the bed when it was fresh").default(0.055),
    },
    outputs: { share: result("1", "share of the feed") },
    compute: (given) => ({ share: shareOfFeed(given.after, given.feed, given.fresh) }),
  }),
  defineFormula({
    id: "breakthrough-fit",
    title: "Breakthrough curve through treated volumes and shares of the feed",
    source: yoonNelson,
    holds:
      "Three or more points. At the foot the curve is early: where points have passed the share, they are taken instead.",
    inputs: {
      volume: list("L", 0, 1e9, "treated volumes (or any one measure of the run)"),
      share: list("1", -1, 10, "shares of the feed"),
      at: quantity("1", 0.001, 0.999, "share whose volume is asked for").default(0.01),
      confidence,
    },
    outputs: {
      outcome,
      rate: result("/L", "rate").optional(),
      rateError: result("/L", "its standard error").optional(),
      half: result("L", "volume at half of the feed").optional(),
      halfError: result("L", "its standard error").optional(),
      halfLow: result("L", "lower end of its interval").optional(),
      halfHigh: result("L", "upper end of its interval").optional(),
      residualSumOfSquares: result("1", "residual sum of squares").optional(),
      asked: result("L", "volume at the asked share").optional(),
      by: z.enum(["points", "curve"]).meta({ description: "what gave it" }).optional(),
      byCurve: result("L", "what the curve alone says").optional(),
      whole: result("L", "volume of a bed used whole: integral of 1 - share").optional(),
    },
    compute: (given) => {
      const points = pointsOf(given.volume, given.share).map(({ x, y }) => ({ volumeL: x, share: y }));
      const fit = fitBreakthrough(points, given.confidence);
      if (!fit.ok) return { outcome: fit.code };
      const { curve } = fit;
      const asked = volumeAtShare(points, curve, given.at);
      return {
        outcome: "good" as const,
        rate: curve.ratePerL,
        rateError: curve.rateStandardErrorPerL,
        half: curve.halfL,
        halfError: curve.halfStandardErrorL,
        halfLow: curve.halfIntervalL[0],
        halfHigh: curve.halfIntervalL[1],
        residualSumOfSquares: curve.residualSumOfSquares,
        asked: asked.volumeL,
        by: asked.by,
        byCurve: volumeOfShare(curve, given.at),
        whole: wholeVolume(points),
      };
    },
  }),
  defineFormula({
    id: "yoon-nelson-of-thomas",
    title: "Rate of Yoon and Nelson from the rate constant of Thomas",
    source: yoonNelson,
    holds: "k_YN = k_Th C0: the two are one curve.",
    inputs: {
      thomas: quantity("mL/min/mg", 0, 1e6, "rate constant of Thomas"),
      concentration: quantity("mg/L", 0, 1e6, "concentration of the feed"),
    },
    outputs: { rate: result("/min", "rate of Yoon and Nelson") },
    compute: (given) => ({ rate: (given.thomas * given.concentration) / 1000 }),
  }),
  defineFormula({
    id: "unused-bed",
    title: "Length of unused bed",
    source: constantPattern,
    holds: "Constant pattern: the same at any depth, at one velocity.",
    inputs: {
      depth,
      breakAt: quantity("1", 0, 1e12, "time or volume at the break"),
      wholeAt: quantity("1", 1e-9, 1e12, "time or volume of a bed used whole"),
    },
    outputs: {
      unused: result("m", "length of unused bed"),
      usedShare: result("1", "share of the bed that was used"),
    },
    compute: (given) => ({
      unused: unusedBedM(given.depth, given.breakAt, given.wholeAt),
      usedShare: given.breakAt / given.wholeAt,
    }),
  }),
  defineFormula({
    id: "bed-break",
    title: "Break of a bed of another depth",
    source: constantPattern,
    holds: "Same velocity, feed and resin.",
    inputs: { depth, breakAt, usedShare, newDepth: quantity("m", 0.001, 100, "new depth") },
    outputs: { breakAt: result("1", "time or volume at the break, in the same unit") },
    compute: (given) => ({
      breakAt: breakOfDepth(given.depth, given.breakAt, given.usedShare, given.newDepth),
    }),
  }),
  defineFormula({
    id: "bed-depth",
    title: "Depth that a bed needs for a wanted break",
    source: constantPattern,
    holds: "Same velocity, feed and resin.",
    inputs: { depth, breakAt, usedShare, newBreakAt: quantity("1", 0, 1e9, "wanted, in the same unit") },
    outputs: { depth: result("m", "depth of the bed") },
    compute: (given) => ({
      depth: depthOfBreak(given.depth, given.breakAt, given.usedShare, given.newBreakAt),
    }),
  }),
];
