import { logisticFit, studentT } from "../../statistics/index.ts";
import { shareOfFeed } from "../resin/breakthrough.ts";
import { breakOfDepth, depthOfBreak, unusedBedM } from "../resin/unused-bed.ts";
import { about, requireSameLength } from "./about.ts";
import { breakthroughFitFormula, fitOutcome, numberList, pairsOf, yoonNelson } from "./breakthrough-fit.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const constantPattern =
  "constant-pattern design: McCabe, Smith and Harriott, Unit Operations, ch. on adsorption";
const depth = quantity("m", 0.001, 100, "depth of the bed");
const breakAt = quantity("1", 1e-9, 1e12, "time or volume at the break");
const usedShare = quantity("1", 0.001, 1, "share of the bed that is used at the break");
/** Breakthrough of beds, and the statistics behind it. */
export const breakthroughFormulas = [
  defineFormula({
    id: "logistic-fit",
    title: "Logistic curve through points by least squares, with standard errors",
    source: "Levenberg (1944), Marquardt (1963); checked by NIST StRD Rat42",
    holds: "y = top / (1 + exp(offset - rate x)). One point more than parameters: 4, or 3 with a given top.",
    example: { x: [0, 500, 1000, 1500, 2000, 2500, 3000], y: [0, 0.02, 0.13, 0.5, 0.87, 0.98, 1] },
    inputs: {
      x: numberList("1", -1e9, 1e9, "x, a volume for instance"),
      y: numberList("1", -1e9, 1e9, "y, one for each x"),
      top: quantity("1", 1e-9, 1e9, "top; left out: fitted").optional(),
    },
    outputs: {
      outcome: fitOutcome,
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
      requireSameLength({ x: given.x, y: given.y });
      const fit = logisticFit(pairsOf(given.x, given.y), given.top);
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
    example: { confidence: 0.95, freedom: 8 },
    inputs: {
      confidence: quantity("1", 0.01, 0.999, "confidence"),
      freedom: quantity("1", 1, 10_000, "degrees of freedom").int(),
    },
    outputs: { t: result("1", "multiple of the standard error") },
    compute: (given) => ({ t: studentT(given.confidence, given.freedom) }),
  }),
  defineFormula({
    id: "share-of-feed",
    title: "Share of the feed that a bed lets through, from conductivities",
    source: "C/C0 with the fresh bed as nought (definition)",
    holds: "All at 25 °C. Over 1 is no fault by itself: a better-held ion pushes another out.",
    example: { after: 12, feed: 480 },
    inputs: {
      after: quantity("uS/cm", 0, 1_000_000, "reference conductivity after the bed"),
      feed: quantity("uS/cm", 0, 1_000_000, "of the feed"),
      fresh: quantity("uS/cm", 0, 1_000_000, "after the bed when it was fresh").default(0.055),
    },
    outputs: { share: result("1", "share of the feed") },
    compute: (given) => ({
      share: about("feed, fresh", () => shareOfFeed(given.after, given.feed, given.fresh)),
    }),
  }),
  breakthroughFitFormula,
  defineFormula({
    id: "yoon-nelson-of-thomas",
    title: "Rate of Yoon and Nelson from the rate constant of Thomas",
    source: yoonNelson,
    holds: "k_YN = k_Th C0: the two are one curve.",
    example: { thomas: 0.2, concentration: 50 },
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
    example: { depth: 0.9, breakAt: 1200, wholeAt: 1500 },
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
      unused: about("breakAt, wholeAt", () => unusedBedM(given.depth, given.breakAt, given.wholeAt)),
      usedShare: given.breakAt / given.wholeAt,
    }),
  }),
  defineFormula({
    id: "bed-break",
    title: "Break of a bed of another depth",
    source: constantPattern,
    holds: "Same velocity, feed and resin.",
    example: { depth: 0.9, breakAt: 1200, usedShare: 0.8, newDepth: 1.2 },
    inputs: { depth, breakAt, usedShare, newDepth: quantity("m", 0.001, 100, "new depth") },
    outputs: { breakAt: result("1", "time or volume at the break, in the same unit") },
    compute: (given) => ({
      breakAt: about("newDepth", () =>
        breakOfDepth(given.depth, given.breakAt, given.usedShare, given.newDepth),
      ),
    }),
  }),
  defineFormula({
    id: "bed-depth",
    title: "Depth that a bed needs for a wanted break",
    source: constantPattern,
    holds: "Same velocity, feed and resin.",
    example: { depth: 0.9, breakAt: 1200, usedShare: 0.8, newBreakAt: 2000 },
    inputs: { depth, breakAt, usedShare, newBreakAt: quantity("1", 0, 1e9, "wanted, in the same unit") },
    outputs: { depth: result("m", "depth of the bed") },
    compute: (given) => ({
      depth: about("newBreakAt", () =>
        depthOfBreak(given.depth, given.breakAt, given.usedShare, given.newBreakAt),
      ),
    }),
  }),
];
