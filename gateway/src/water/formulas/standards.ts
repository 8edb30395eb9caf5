import { z } from "zod";
import { probeKind } from "../compensated-probe.ts";
import { wasMadeFor } from "../compensation-range.ts";
import { standardAlphaPerC } from "../linear-compensation.ts";
import { conductivityCalibration, usualCalibrationLimits } from "../standards/conductivity-calibration.ts";
import { primaryStandard, standardAt, standardRangeC } from "../standards/conductivity-standard.ts";
import { uncertainKappa25 } from "../temperature-error.ts";
import { about, requireRising } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const temperature = quantity("Cel", standardRangeC.min, standardRangeC.max, "the standard's temperature");
const nominal = quantity("uS/cm", 10, 120_000, "the standard's conductivity at 25 °C");
const read = quantity("uS/cm", 0, 1_000_000, "what the probe read, not compensated");
const primary =
  "Wu, Koch and Pratt, J. Res. NIST 96 (1991) 191; Pratt et al., Pure Appl. Chem. 73 (2001) 1783 (NIST, IUPAC)";

/** Conductivity standards, calibration, and what the thermometer does to a probe. */
export const standardFormulas = [
  defineFormula({
    id: "primary-conductivity-standard",
    title: "Primary potassium chloride standard at a temperature",
    source: primary,
    holds: "Molality 0.01, 0.1 or 1 mol/kg. Without the water's own share: 1 uS/cm where it stood in air.",
    example: { molality: 0.01, temperature: 20 },
    inputs: {
      molality: z
        .union([z.literal(0.01), z.literal(0.1), z.literal(1)])
        .meta({ unit: "mol/kg", description: "0.01, 0.1 or 1" }),
      temperature,
    },
    outputs: { kappa: result("uS/cm", "conductivity at that temperature") },
    compute: (given) => ({ kappa: primaryStandard(given.molality, given.temperature) }),
  }),
  defineFormula({
    id: "conductivity-standard",
    title: "Bottled potassium chloride standard at a temperature",
    source: primary,
    holds:
      "Potassium chloride only. Printed tables to 12,880 uS/cm are met to 0.3 %, at a few entries to 0.7 %.",
    example: { standard: 1413, temperature: 20 },
    inputs: { standard: nominal, temperature },
    outputs: { kappa: result("uS/cm", "conductivity at that temperature") },
    compute: (given) => ({ kappa: standardAt(given.standard, given.temperature) }),
  }),
  defineFormula({
    id: "conductivity-calibration",
    title: "Cell constant, slope and offset of a conductivity probe",
    source: `${primary}; limits: common practice, no source`,
    holds: "One standard gives a cell constant, two a slope and an offset. Readings are not compensated.",
    example: { standard: 84, temperature: 22, read: 80.1, secondStandard: 1413, secondRead: 1341 },
    inputs: {
      standard: nominal,
      temperature,
      read,
      secondStandard: nominal.optional(),
      secondTemperature: temperature.optional(),
      secondRead: read.optional(),
      cellConstant: quantity("/cm", 0.001, 100, "the probe's nominal cell constant").default(1),
      slopeMin: quantity("1", 0, 10, "least slope").default(usualCalibrationLimits.slopeMin),
      slopeMax: quantity("1", 0, 10, "greatest slope").default(usualCalibrationLimits.slopeMax),
      offsetShareMax: quantity("1", 0, 1, "greatest offset, of the smallest standard").default(
        usualCalibrationLimits.offsetShareMax,
      ),
    },
    outputs: {
      code: z
        .enum([
          "ok",
          "slope-outside-limits",
          "offset-outside-limits",
          "readings-tell-nothing",
          "second-incomplete",
        ])
        .meta({ description: "whether to believe it" }),
      slope: result("1", "true over read").nullable(),
      offset: result(
        "uS/cm",
        "true at a reading of 0; none from one standard, which can't see it",
      ).nullable(),
      cellConstant: result("/cm", "cell constant to set").nullable(),
    },
    compute: (given) => {
      requireRising({ slopeMin: given.slopeMin, slopeMax: given.slopeMax });
      const nothing = { slope: null, offset: null, cellConstant: null };
      const { secondStandard, secondRead, secondTemperature } = given;
      const isOne = secondStandard === undefined && secondRead === undefined;
      const isTwo = secondStandard !== undefined && secondRead !== undefined;
      if (!isTwo && !(isOne && secondTemperature === undefined))
        return { code: "second-incomplete" as const, ...nothing };
      const found = conductivityCalibration(
        { trueUsPerCm: standardAt(given.standard, given.temperature), readUsPerCm: given.read },
        secondStandard === undefined || secondRead === undefined
          ? null
          : {
              trueUsPerCm: standardAt(secondStandard, given.secondTemperature ?? given.temperature),
              readUsPerCm: secondRead,
            },
        given.cellConstant,
        given,
      );
      return found.code === "readings-tell-nothing"
        ? { code: found.code, ...nothing }
        : {
            code: found.code,
            slope: found.slope,
            offset: secondStandard === undefined ? null : found.offsetUsPerCm,
            cellConstant: found.cellConstantPerCm,
          };
    },
  }),
  defineFormula({
    id: "kappa25-uncertainty",
    title: "Reference conductivity when the temperature may be wrong",
    source: "the compensation itself, at both ends of the temperature",
    holds: "linear -2 to 50 °C, natural 0 to 35.9 °C, pure -5 to 60 °C, less the error on both sides.",
    example: { kappa: 480, temperature: 18, temperatureError: "1 F", compensation: "natural" },
    inputs: {
      kappa: quantity("uS/cm", 0, 1_000_000, "conductivity at the water's temperature"),
      temperature: quantity("Cel", -5, 60, "water temperature"),
      temperatureError: quantity("K", 0, 10, "greatest error of the temperature, in degrees"),
      compensation: z.enum(["linear", "natural", "pure"]).meta({ description: "way of compensation" }),
      alpha: quantity("/Cel", 0, 0.06, "coefficient at 25 °C, for linear").default(standardAlphaPerC),
    },
    outputs: {
      kappa25: result("uS/cm", "reference conductivity, at 25 °C"),
      low: result("uS/cm", "where the water is warmer"),
      high: result("uS/cm", "where the water is colder"),
      inRange: z.boolean().meta({
        description: "natural: 60 to 1000 uS/cm, pure: to 10, for which they were made; linear: always",
      }),
    },
    compute: ({ compensation, alpha, ...given }) => {
      const way =
        compensation === "linear" ? { kind: compensation, alphaPerC: alpha } : { kind: compensation };
      const found = about("temperature, temperatureError", () =>
        uncertainKappa25(given.kappa, given.temperature, given.temperatureError, way),
      );
      return { ...found, inRange: compensation === "linear" || wasMadeFor(compensation, found.kappa25) };
    },
  }),
  defineFormula({
    id: "probe-compensation",
    title: "Whether a probe compensates on its own",
    source: "slope of log reading over log f25 (ISO 7888:1985) by least squares, 95 % interval",
    holds:
      "At least 10 pairs of the same natural water over at least 2 °C; readings as the probe gives them.",
    example: {
      readings: [411, 423, 434, 446, 458, 470, 481, 493, 505, 517],
      temperatures: [15, 16, 17, 18, 19, 20, 21, 22, 23, 24],
    },
    inputs: {
      readings: z
        .array(quantity("uS/cm", 1e-6, 1_000_000, "reading"))
        .min(1)
        .max(1000),
      temperatures: z
        .array(quantity("Cel", 0, 35.9, "water temperature"))
        .min(1)
        .max(1000),
    },
    outputs: {
      kind: z
        .enum(["raw", "already-compensated", "compensated-twice", "can't-tell"])
        .meta({ description: "what the probe does" }),
      share: result("1", "1 raw, 0 compensated, -1 twice"),
      halfWidth: result("1", "half the 95 % interval of the share").nullable(),
      spanC: result("K", "span of the temperatures, in degrees"),
    },
    compute: (given) => probeKind(given.readings, given.temperatures),
  }),
];
