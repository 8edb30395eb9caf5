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
import { about, requireRising, requireRisingList, requireSameLength } from "./about.ts";
import { defineFormula, quantity } from "./formula.ts";

const widest = 1e12;
const manual =
  "US IOOS, Manual for Real-Time Quality Control of In-situ Temperature and Salinity Data v2.0 (2016)";
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
    example: { values: [4.1, 4.2, null, 60], failMin: 0, failMax: 50, suspectMin: 2, suspectMax: 8 },
    inputs: {
      values,
      failMin: number("lowest that the sensor can say"),
      failMax: number("highest that the sensor can say"),
      suspectMin: number("lowest that is usual"),
      suspectMax: number("highest that is usual"),
    },
    outputs: flags,
    compute: (given) => {
      requireRising({
        failMin: given.failMin,
        suspectMin: given.suspectMin,
        suspectMax: given.suspectMax,
        failMax: given.failMax,
      });
      const sensor = { min: given.failMin, max: given.failMax };
      const usual = { min: given.suspectMin, max: given.suspectMax };
      return { flags: given.values.map((value) => grossRangeFlag(value, sensor, usual)) };
    },
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
    compute: (given) => {
      requireRising({ suspect: given.suspect, fail: given.fail });
      return { flags: (given.form === "average" ? spikeFlags : spikeDifferentialFlags)(given.values, given) };
    },
  }),
  defineFormula({
    id: "qartod-rate",
    title: "QARTOD test 7: change from the value before",
    source: manual,
    holds: `${holds} The first value, and one after a gap, pass.`,
    example: { values: [4.1, 4.2, 9.9], seconds: [0, 60, 120], suspect: 0.02, fail: 0.05 },
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
    compute: (given) => {
      requireRising({ suspect: given.suspect, fail: given.fail });
      requireSameLength({ values: given.values, seconds: given.seconds });
      requireRisingList("seconds", given.seconds);
      return { flags: rateFlags(given.values, given.seconds, given) };
    },
  }),
  defineFormula({
    id: "qartod-flat-line",
    title: "QARTOD test 8: values that don't move",
    source: manual,
    holds,
    example: { values: [4.1, 4.1, 4.1, 4.1, 4.3], suspectAfter: 2, failAfter: 3, tolerance: 0.01 },
    inputs: {
      values,
      suspectAfter: quantity("1", 1, 1000, "so many values before it within the tolerance: suspect").int(),
      failAfter: quantity("1", 1, 1000, "so many values before it within the tolerance: fail").int(),
      tolerance: number("greatest less least stays below it", 0),
    },
    outputs: flags,
    compute: (given) => {
      requireRising({ suspectAfter: given.suspectAfter, failAfter: given.failAfter });
      return { flags: flatLineFlags(given.values, given) };
    },
  }),
  defineFormula({
    id: "qartod-attenuated",
    title: "QARTOD test 10: a signal that moves too little",
    source: manual,
    holds,
    example: {
      values: [4.1, 4.1, 4.2, 4.1],
      seconds: [0, 60, 120, 180],
      by: "range",
      suspect: 0.2,
      fail: 0.05,
    },
    inputs: {
      values,
      seconds,
      by: z.enum(["deviation", "range"]).meta({ description: "standard deviation, or greatest less least" }),
      suspect: number("less than it: suspect", 0),
      fail: number("less than it: fail", 0),
      window: quantity("s", 0, widest, "each value with those of so many seconds before it").optional(),
      leastValues: quantity("1", 1, 1000, "fewer in the window: not evaluated").int().default(2),
    },
    outputs: flags,
    compute: ({ window, ...given }) => {
      requireRising({ fail: given.fail, suspect: given.suspect });
      requireSameLength({ values: given.values, seconds: given.seconds });
      const setting = { ...given, windowS: window };
      requireRisingList("seconds", given.seconds);
      return { flags: attenuationFlags(given.values, given.seconds, setting) };
    },
  }),
  defineFormula({
    id: "qartod-gap",
    title: "QARTOD test 1: nothing new for too long",
    source: manual,
    holds,
    example: { age: "3 min", longest: "2 min" },
    inputs: {
      age: quantity("s", 0, widest, "age of the newest value; null: there is none").nullable(),
      longest: quantity("s", 0, widest, "longest age that is well"),
    },
    outputs: { flag: flag.meta({ description: "1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing" }) },
    compute: ({ age, longest }) => ({
      flag: gapFlag(age === null ? null : -age * 1000, 0, longest * 1000),
    }),
  }),
  defineFormula({
    id: "qartod-roll-up",
    title: "One flag of several tests",
    source: "US IOOS, Manual for the Use of Real-Time Oceanographic Data Quality Control Flags v1.2 (2020)",
    holds,
    example: { flags: [1, 3, 2] },
    inputs: { flags: z.array(flag).max(100).meta({ description: "flags of one value" }) },
    outputs: { flag: flag.meta({ description: "1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing" }) },
    compute: (given): { flag: QartodFlag } => ({ flag: rollUp(given.flags) }),
  }),
  defineFormula({
    id: "drift-correction",
    title: "What to add to a reading between two checks of a probe",
    source: "USGS Techniques and Methods 1-D3 (Wagner et al., 2006)",
    holds: "The drift grew evenly. Beyond the outermost pairs their own correction holds.",
    example: {
      reading: 412,
      elapsed: "10 d",
      span: "30 d",
      pairs: [
        { reading: 84, correction: 2 },
        { reading: 1390, correction: 23 },
      ],
    },
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
        .max(100)
        .meta({ description: "what the check found; readings rising" }),
    },
    outputs: {
      correction: quantity("1", -widest, widest, "to add to the reading"),
      corrected: quantity("1", -2 * widest, 2 * widest, "reading with it"),
      beyond: z.boolean().meta({ description: "reading lies beyond the pairs, where nothing was checked" }),
    },
    compute: ({ reading, elapsed, span, pairs }) => {
      requireRising({ elapsed, span });
      requireRisingList(
        "pairs, reading",
        pairs.map((pair) => pair.reading),
      );
      const correction = about("pairs", () =>
        correctionAt({ fromMs: 0, toMs: span * 1000, pairs }, elapsed * 1000, reading),
      );
      const beyond = reading < (pairs[0]?.reading ?? 0) || reading > (pairs.at(-1)?.reading ?? 0);
      return { correction, corrected: reading + correction, beyond };
    },
  }),
];
