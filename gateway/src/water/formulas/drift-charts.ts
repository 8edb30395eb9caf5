import { z } from "zod";
import {
  cusumDriftRunLength,
  ewmaDriftRunLength,
  percentConventions,
  percentDifference,
} from "../../statistics/index.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const drift = quantity("1", 0.001, 10, "step of the mean from value to value, in standard deviations");
const firstOnTarget = z
  .boolean()
  .default(false)
  .meta({ description: "the first value is still on target; else one step off already" });
const outputs = {
  runLength: result("1", "values until it signals, on average"),
  shift: result("1", "how far off the mean is by then, in standard deviations"),
};
const independent = "Independent normal values; values that depend on those before them signal sooner.";

function told(runLength: number, perValue: number, onTarget: boolean) {
  return { runLength, shift: perValue * (onTarget ? runLength - 1 : runLength) };
}

/** How soon charts find a drift; how far a reading is off, in percent. */
export const driftChartFormulas = [
  defineFormula({
    id: "cusum-drift-run-length",
    title: "How many values until a CUSUM signals a drift (ARL under a ramp)",
    source: "Gan, The Statistician 41 (1992) 71; Knoth, Sequential Analysis 22 (2003) 241",
    holds: `One sum, in the drift's direction; a second one adds its false alarms only. ${independent}`,
    example: { drift: 0.05, allowance: 0.5, limit: 6 },
    inputs: {
      drift,
      allowance: quantity("1", 0, 2, "drift a value that is allowed for, in standard deviations"),
      limit: quantity("1", 0.1, 10, "sum beyond which it signals, in standard deviations"),
      headStart: quantity("1", 0, 0.99, "share of the limit at which the sum begins").default(0),
      firstOnTarget,
    },
    outputs,
    compute: (given) => {
      const ramp = { perValue: given.drift, firstOnTarget: given.firstOnTarget };
      const length = cusumDriftRunLength(ramp, given.allowance, given.limit, given.headStart);
      return told(length, given.drift, given.firstOnTarget);
    },
  }),
  defineFormula({
    id: "ewma-drift-run-length",
    title: "How many values until an EWMA chart signals a drift (ARL under a ramp)",
    source:
      "Gan, J. Stat. Comput. Simul. 38 (1991) 181; Aerne, Champ and Rigdon, Commun. Stat. Theory Methods 20 (1991) 3341",
    holds: `Steady limits on both sides. ${independent}`,
    example: { drift: 0.05, weight: 0.2, width: 2.9 },
    inputs: {
      drift,
      weight: quantity("1", 0.02, 1, "weight of the newest value"),
      width: quantity("1", 0.1, 5, "width of the limits, in deviations of the average"),
      firstOnTarget,
    },
    outputs,
    compute: (given) => {
      const ramp = { perValue: given.drift, firstOnTarget: given.firstOnTarget };
      const length = ewmaDriftRunLength(ramp, given.weight, given.width);
      return told(length, given.drift, given.firstOnTarget);
    },
  }),
  defineFormula({
    id: "percent-difference",
    title: "Difference of a reading from a standard, in percent, by a named convention",
    source: "USGS Techniques and Methods 1-D3 (Wagner et al., 2006); EPA SW-846 for duplicates (of-mean)",
    holds:
      "of-standard: error, above 0 reads high. correction-…: what to add, above 0 reads low. of-mean: relative percent difference (RPD) of duplicates, no sign. State the convention beside the number.",
    example: { reading: 1372, standard: 1413, convention: "of-standard" },
    inputs: {
      reading: quantity("1", 0, 1e12, "what the probe said"),
      standard: quantity("1", 0, 1e12, "what is true, in the same unit"),
      convention: z
        .enum(percentConventions)
        .default("of-standard")
        .meta({ description: "what it is a percent of, and which way it counts" }),
      span: quantity("1", 0, 1e12, "range of the instrument, for of-span").default(0),
    },
    outputs: {
      percent: result("%", "difference by that convention"),
      difference: result("1", "reading less standard, in their unit"),
    },
    compute: (given) => ({
      percent: percentDifference(given.reading, given.standard, given.convention, given.span),
      difference: given.reading - given.standard,
    }),
  }),
];
