import { z } from "zod";
import {
  attenuationFlags,
  correctionAt,
  flatLineFlags,
  gapFlag,
  grossRangeFlag,
  type QartodFlag,
  rateFlags,
  rollUp,
  spikeDifferentialFlags,
  spikeFlags,
} from "../../statistics/index.ts";
import { defineFormula, quantity } from "./formula.ts";

const widest = 1e12;
const manual = "US IOOS, Manual for Real-Time Quality Control of Temperature and Salinity Data v2.0 (2016)";
const holds = "Flags: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing. A missing value is null.";
const number = (description: string, min = -widest) => quantity("1", min, widest, description);
const values = z.array(number("values in their order; null: missing").nullable()).min(1).max(1000);
const seconds = z
  .array(quantity("s", 0, widest, "time of each value"))
  .min(1)
  .max(1000);
const flag = z.union([z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(9)]);
const flags = { flags: z.array(flag).meta({ description: "one flag a value" }) };
const suspect = number("more than it: suspect", 0);
const fail = number("more than it: fail; left out: nothing fails", 0).optional();

/** Is a value of a probe to be believed: QARTOD tests; drift between two checks. */
export const sensorCheckFormulas = [
  defineFormula({
    id: "qartod-gross-range",
    title: "QARTOD test 4: values that can't be",
    source: manual,
    holds,
    inputs: {
      values,
      failMin: number("lowest that the sensor can say"),
      failMax: number("highest that the sensor can say"),
      suspectMin: number("lowest that is usual"),
      suspectMax: number("highest that is usual"),
    },
    outputs: flags,
    compute: (given) => ({
      flags: given.values.map((value) =>
        grossRangeFlag(
          value,
          { min: given.failMin, max: given.failMax },
          { min: given.suspectMin, max: given.suspectMax },
        ),
      ),
    }),
  }),
  defineFormula({
    id: "qartod-spike",
    title: "QARTOD test 6: one value away from both its neighbours",
    source: `${manual}; differential form: ioos_qc, method "differential"`,
    holds: `${holds} Average: distance from the mean of the neighbours, so a great spike takes them with it. Differential: the smaller step to a neighbour, where both lie on one side.`,
    example: { values: [5.1, 5.2, 9.8, 5.2, 5.3], suspect: 1, fail: 3, form: "differential" },
    inputs: {
      values,
      suspect,
      fail,
      form: z
        .enum(["average", "differential"])
        .default("average")
        .meta({ description: "how the distance is taken" }),
    },
    outputs: flags,
    compute: (given) => ({
      flags: (given.form === "average" ? spikeFlags : spikeDifferentialFlags)(given.values, given),
    }),
  }),
  defineFormula({
    id: "qartod-rate",
    title: "QARTOD test 7: change from the value before",
    source: manual,
    holds: `${holds} The first value, and one after a gap, pass.`,
    inputs: {
      values,
      seconds,
      suspect: quantity("/s", 0, widest, "change a second above which a value is suspect"),
      fail: quantity(
        "/s",
        0,
        widest,
        "change a second above which it fails; left out: nothing fails",
      ).optional(),
    },
    outputs: flags,
    compute: (given) => ({ flags: rateFlags(given.values, given.seconds, given) }),
  }),
  defineFormula({
    id: "qartod-flat-line",
    title: "QARTOD test 8: values that don't move",
    source: manual,
    holds,
    inputs: {
      values,
      suspectAfter: quantity("1", 1, 1000, "so many values before it within the tolerance: suspect").int(),
      failAfter: quantity("1", 1, 1000, "so many values before it within the tolerance: fail").int(),
      tolerance: number("greatest less least stays below it", 0),
    },
    outputs: flags,
    compute: (given) => ({ flags: flatLineFlags(given.values, given) }),
  }),
  defineFormula({
    id: "qartod-attenuated",
    title: "QARTOD test 10: a signal that moves too little",
    source: manual,
    holds,
    inputs: {
      values,
      seconds,
      by: z.enum(["deviation", "range"]),
      suspect: number("less than it: suspect", 0),
      fail: number("less than it: fail", 0),
      window: quantity("s", 0, widest, "each value with those of so many seconds before it").optional(),
      leastValues: quantity("1", 1, 1000, "fewer in the window: not evaluated").optional(),
    },
    outputs: flags,
    compute: ({ window, ...given }) => ({
      flags: attenuationFlags(given.values, given.seconds, { ...given, windowS: window }),
    }),
  }),
  defineFormula({
    id: "qartod-gap",
    title: "QARTOD test 1: nothing new for too long",
    source: manual,
    holds,
    inputs: {
      age: quantity("s", 0, widest, "age of the newest value; null: there is none").nullable(),
      longest: quantity("s", 0, widest, "longest age that is well"),
    },
    outputs: { flag },
    compute: ({ age, longest }) => ({
      flag: gapFlag(age === null ? null : -age * 1000, 0, longest * 1000),
    }),
  }),
  defineFormula({
    id: "qartod-roll-up",
    title: "One flag of several tests",
    source: "US IOOS, Manual for the Use of Real-Time Oceanographic Data Quality Control Flags v1.2 (2020)",
    holds,
    inputs: { flags: z.array(flag).max(100) },
    outputs: { flag },
    compute: (given): { flag: QartodFlag } => ({ flag: rollUp(given.flags) }),
  }),
  defineFormula({
    id: "drift-correction",
    title: "What to add to a reading between two checks of a probe",
    source: "USGS Techniques and Methods 1-D3 (Wagner et al., 2006)",
    holds: "The drift grew evenly. Beyond the outermost pairs their own correction holds.",
    inputs: {
      reading: number("what the probe said"),
      elapsed: quantity("s", 0, 1e9, "since the last check that was good"),
      span: quantity("s", 1, 1e9, "between the two checks"),
      pairs: z
        .array(
          z.strictObject({
            reading: number("what the probe said at the check"),
            correction: number("what had to be added"),
          }),
        )
        .min(1)
        .max(100),
    },
    outputs: {
      correction: quantity("1", -widest, widest, "to add to the reading"),
      corrected: quantity("1", -2 * widest, 2 * widest, "reading with it"),
    },
    compute: ({ reading, elapsed, span, pairs }) => {
      const correction = correctionAt({ fromMs: 0, toMs: span * 1000, pairs }, elapsed * 1000, reading);
      return { correction, corrected: reading + correction };
    },
  }),
];
