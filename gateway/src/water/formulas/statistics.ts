import { z } from "zod";
import {
  cusum,
  cusumRunLength,
  ewma,
  ewmaRunLength,
  holtForecast,
  holtLinear,
  mannKendall,
  oneSidedCusumRunLength,
  pettitt,
  robustSpread,
  siegmundRunLength,
  straightLine,
  theilSen,
} from "../../statistics/index.ts";
import { about } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const widest = 1e12;
const list = (description: string, least: number) =>
  z
    .array(quantity("1", -widest, widest, description))
    .min(least)
    .max(1000);
const values = list("values in their order, in one unit", 1);
const numbers = (description: string) => z.array(result("1", description));
const place = (description: string) => z.number().nullable().meta({ unit: "1", description });
const shift = quantity("1", -10, 10, "shift of the mean, in standard deviations");
const allowance = quantity("1", 0, 5, "drift a value that is allowed for, in standard deviations");
const limit = quantity("1", 0.1, 15, "sum beyond which it signals, in standard deviations");
const headStart = quantity("1", 0, 0.99, "share of the limit at which the sums begin").default(0);
const runLength = { runLength: result("1", "values until it signals, on average") };
const independent = "Independent normal values; values that depend on those before them signal sooner.";

/** Trends, charts that find a shift, and spread. */
export const statisticsFormulas = [
  defineFormula({
    id: "robust-spread",
    title: "Median, quartiles and median deviation",
    source: "Hampel, J. Am. Stat. Assoc. 69 (1974) 383; Hyndman and Fan, Am. Stat. 50 (1996) 361, type 7",
    holds: "Half of the values less one may be strays. Deviations stand for normal scatter.",
    example: { values: [4.1, 4.3, 4.2, 9.9, 4.2] },
    inputs: { values },
    outputs: {
      median: result("1", "middle value"),
      lowerQuartile: result("1", "a quarter of the values lies below"),
      upperQuartile: result("1", "a quarter of the values lies above"),
      medianDeviation: result("1", "median distance from the median"),
      deviationOfMedianDeviation: result("1", "normal standard deviation by the median distance"),
      deviationOfQuartiles: result("1", "normal standard deviation by the quartiles"),
    },
    compute: (given) => ({ ...robustSpread(given.values) }),
  }),
  defineFormula({
    id: "theil-sen",
    title: "Slope that strays can't turn",
    source: "Theil (1950); Sen, J. Am. Stat. Assoc. 63 (1968) 1379; intercept of Conover (1980)",
    holds: "Up to 29 % of strays.",
    example: { x: [0, 1, 2, 3, 4, 5], y: [4.1, 4.3, 4.4, 9.9, 4.9, 5.1] },
    inputs: {
      x: list("x, a time for instance", 2),
      y: list("y, one for each x", 2),
      confidence: quantity("1", 0.5, 0.999, "of the interval").default(0.95),
    },
    outputs: {
      slope: result("1", "y by x"),
      intercept: result("1", "y at x = 0"),
      slopeLow: place("lower end of the slope's interval; none for too few points"),
      slopeHigh: place("upper end of the slope's interval"),
    },
    compute: (given) => ({ ...theilSen(given.x, given.y, given.confidence) }),
  }),
  defineFormula({
    id: "straight-line",
    title: "Least-squares straight line",
    source: "Legendre (1805); standard errors as in any text on regression",
    holds: "Scatter in y only, about the same everywhere. One stray can turn it: see theil-sen.",
    example: { x: [0, 1, 2, 3], y: [4.1, 4.3, 4.4, 4.7] },
    inputs: {
      x: list("x, a time for instance", 2),
      y: list("y, one for each x", 2),
    },
    outputs: {
      slope: result("1", "y by x"),
      intercept: result("1", "y at x = 0"),
      slopeError: place("standard error of the slope; none for two points"),
      interceptError: place("standard error of the intercept; none for two points"),
      rSquared: place("share of y's variation that the line explains; none where y does not vary"),
    },
    compute: (given) => ({ ...straightLine(given.x, given.y) }),
  }),
  defineFormula({
    id: "mann-kendall",
    title: "Does a series rise or fall on the whole",
    source: "Mann, Econometrica 13 (1945) 245; Kendall (1975): ties, continuity correction",
    holds: "From about 10 values on. Values that depend on those before them make p too small.",
    example: { values: [4.1, 4.3, 4.2, 4.4, 4.6, 4.5, 4.8, 4.9, 5.1, 5.0] },
    inputs: {
      values: list("values in their order", 3),
    },
    outputs: {
      score: result("1", "pairs that rise less pairs that fall"),
      variance: result("1", "of the score where there is no trend"),
      z: result("1", "score over its deviation"),
      p: result("1", "two-sided probability where there is no trend"),
      tau: result("1", "score over the number of pairs"),
    },
    compute: (given) => ({ ...mannKendall(given.values) }),
  }),
  defineFormula({
    id: "pettitt",
    title: "Where a series shifted",
    source: "Pettitt, Appl. Statist. 28 (1979) 126",
    holds: "p is approximate, good up to 0.5. A smooth trend gives a point too.",
    example: { values: [4.1, 4.2, 4.1, 4.3, 4.2, 6.1, 6.0, 6.2, 6.1, 6.3] },
    inputs: {
      values: list("values in their order", 2),
    },
    outputs: {
      statistic: result("1", "greatest distance of the rank sum from no shift"),
      p: result("1", "two-sided probability where there is no shift"),
      shiftAfter: result("1", "1-based place of the last value before the shift"),
      direction: z
        .enum(["up", "down"])
        .nullable()
        .meta({ description: "values after it are greater or smaller" }),
    },
    compute: (given) => ({ ...pettitt(given.values) }),
  }),
  defineFormula({
    id: "holt-linear",
    title: "Level and trend of evenly spaced values, and values to come",
    source:
      "Holt (1957), Int. J. Forecasting 20 (2004) 5; begins from the first value and the first difference",
    holds: "No season, no gaps. Values to come go on along the trend for ever, and no interval is given.",
    example: { values: [4.1, 4.3, 4.4, 4.7], alpha: 0.8, beta: 0.2, steps: 3 },
    inputs: {
      values: list("values in their order", 2),
      alpha: quantity("1", 0, 1, "weight of the newest level"),
      beta: quantity("1", 0, 1, "weight of the newest trend"),
      steps: quantity("1", 1, 100, "values to come").int(),
    },
    outputs: {
      level: result("1", "level after the last value"),
      trend: result("1", "trend a step after the last value"),
      forecasts: numbers("values to come"),
    },
    compute: (given) => {
      const state = holtLinear(given.values, given.alpha, given.beta);
      const forecasts = Array.from({ length: given.steps }, (_, step) => holtForecast(state, step + 1));
      return { ...state, forecasts };
    },
  }),
  defineFormula({
    id: "cusum",
    title: "Two-sided CUSUM chart",
    source: "Page, Biometrika 41 (1954) 100; head start: Lucas and Crosier, Technometrics 24 (1982) 199",
    holds: "Finds a small lasting shift. Allowance: half of the shift to be found; limit: 4 to 5 deviations.",
    example: { values: [4.1, 4.0, 4.2, 4.5, 4.6, 4.7, 4.6], target: 4.1, allowance: 0.1, limit: 0.8 },
    inputs: {
      values,
      target: quantity("1", -widest, widest, "mean without a shift"),
      allowance: quantity("1", 0, widest, "drift a value that is allowed for, in the values' unit"),
      limit: quantity("1", 1e-12, widest, "sum beyond which it signals, in the values' unit"),
      headStart,
    },
    outputs: {
      high: numbers("upper sums"),
      low: numbers("lower sums"),
      signalAt: place("1-based place of the first signal"),
      side: z.enum(["up", "down"]).nullable().meta({ description: "which way" }),
      shiftAfter: place("1-based place of the last value before the shift"),
      newMean: place("mean since the shift"),
    },
    compute: (given) => {
      const { high, low, ...signal } = cusum(given.values, given);
      return { high: [...high], low: [...low], ...signal };
    },
  }),
  defineFormula({
    id: "ewma-chart",
    title: "EWMA chart",
    source: "Roberts, Technometrics 1 (1959) 239; Lucas and Saccucci, Technometrics 32 (1990) 1",
    holds: "Finds a small lasting shift. Usual: weight 0.1 to 0.3, width 2.7 to 3.",
    example: { values: [4.1, 4.0, 4.2, 4.5, 4.6, 4.7, 4.6], target: 4.1, deviation: 0.2, weight: 0.2 },
    inputs: {
      values,
      target: quantity("1", -widest, widest, "mean without a shift"),
      deviation: quantity("1", 1e-12, widest, "standard deviation of a single value"),
      weight: quantity("1", 0.001, 1, "weight of the newest value"),
      width: quantity("1", 0.1, 10, "width of the limits, in deviations of the average").default(3),
    },
    outputs: {
      averages: numbers("weighted averages"),
      upper: numbers("upper limits, exact"),
      lower: numbers("lower limits, exact"),
      steadyUpper: result("1", "upper limit after many values"),
      steadyLower: result("1", "lower limit after many values"),
      signalAt: place("1-based place of the first signal"),
    },
    compute: (given) => {
      const { averages, upper, lower, ...rest } = ewma(given.values, given);
      return { averages: [...averages], upper: [...upper], lower: [...lower], ...rest };
    },
  }),
  defineFormula({
    id: "cusum-run-length",
    title: "How many values until a CUSUM signals (ARL)",
    source:
      "Page (1954); Vance, J. Qual. Technol. 18 (1986) 189; Lucas and Crosier, Technometrics 24 (1982) 199",
    holds: independent,
    example: { shift: 1, allowance: 0.5, limit: 4 },
    inputs: {
      shift,
      allowance,
      limit,
      headStart,
      sides: z
        .enum(["both", "up"])
        .default("both")
        .meta({ description: "both sums, or the upper one alone" }),
    },
    outputs: runLength,
    compute: (given) => {
      const length = given.sides === "both" ? cusumRunLength : oneSidedCusumRunLength;
      return {
        runLength: about("shift, allowance, limit", () =>
          length(given.shift, given.allowance, given.limit, given.headStart),
        ),
      };
    },
  }),
  defineFormula({
    id: "cusum-run-length-siegmund",
    title: "How many values until a CUSUM signals (ARL), in one line",
    source: "Siegmund, Sequential Analysis (1985)",
    holds: `An approximation: some 1 % at shifts to 1, too short by a tenth at 3. ${independent}`,
    example: { shift: 1, allowance: 0.5, limit: 4 },
    inputs: { shift, allowance, limit },
    outputs: runLength,
    compute: (given) => ({
      runLength: about("shift, allowance, limit", () =>
        siegmundRunLength(given.shift, given.allowance, given.limit),
      ),
    }),
  }),
  defineFormula({
    id: "ewma-run-length",
    title: "How many values until an EWMA chart with steady limits signals (ARL)",
    source: "Crowder, Technometrics 29 (1987) 401; Lucas and Saccucci, Technometrics 32 (1990) 1",
    holds: independent,
    example: { shift: 1, weight: 0.2, width: 2.8 },
    inputs: {
      shift,
      weight: quantity("1", 0.02, 1, "weight of the newest value"),
      width: quantity("1", 0.1, 5, "width of the limits, in deviations of the average"),
    },
    outputs: runLength,
    compute: (given) => ({
      runLength: about("shift, weight, width", () => ewmaRunLength(given.shift, given.weight, given.width)),
    }),
  }),
];
