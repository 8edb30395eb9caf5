import { z } from "zod";
import {
  betaOf,
  betaResistance,
  betaTemperature,
  ntcResistance,
  ntcTemperature,
  steinhartHartOf,
} from "../sensors/ntc.ts";
import {
  platinumRangeC,
  platinumResistance,
  platinumTemperature,
  platinumToleranceC,
} from "../sensors/platinum.ts";
import { about } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const resistance = quantity("Ohm", 1, 10_000_000, "resistance of the sensor");
const sensorC = quantity("Cel", -55, 150, "temperature");
const toTemperature = { temperature: result("Cel", "temperature") };
const toResistance = { resistance: result("Ohm", "resistance") };
const coefficients = {
  a: quantity("1/K", -0.1, 0.1, "coefficient A"),
  b: quantity("1/K", 1e-6, 1e-2, "coefficient B"),
  c: quantity("1/K", 1e-12, 1e-5, "coefficient C"),
};
const beta = {
  nominal: quantity("Ohm", 1, 10_000_000, "resistance at the nominal temperature"),
  nominalTemperature: quantity("Cel", -55, 150, "nominal temperature").default(25),
  beta: quantity("K", 500, 20_000, "B value"),
};
const threePoints = z.array(sensorC).min(3).max(3).meta({ description: "temperatures of three points" });
const threeOhms = z.array(resistance).min(3).max(3).meta({ description: "resistances at the three points" });
const steinhartHart = "Steinhart and Hart, Deep-Sea Research 15 (1968) 497";
const iec60751 = "IEC 60751:2022";
const iec60539 = "IEC 60539-1, B value";
const platinumC = quantity("Cel", platinumRangeC.min, platinumRangeC.max, "temperature");
const nominalPlatinum = quantity("Ohm", 1, 100_000, "resistance at 0 °C: 100 or 1000").default(1000);

const pointsOf = (tC: readonly number[], ohm: readonly number[]) => {
  const point = (place: number) => ({ tC: tC[place] as number, ohm: ohm[place] as number });
  return [point(0), point(1), point(2)] as const;
};

/** Thermistors and platinum sensors. */
export const temperatureSensorFormulas = [
  defineFormula({
    id: "ntc-temperature",
    title: "Temperature of a thermistor by Steinhart and Hart",
    source: steinhartHart,
    holds: "Within some 0.01 °C of a table over 50 °C when the coefficients are the sensor's own.",
    example: { resistance: 12493, a: 0.001129148, b: 0.000234125, c: 8.76741e-8 },
    inputs: { resistance, ...coefficients },
    outputs: toTemperature,
    compute: ({ resistance: ohm, ...given }) => ({
      temperature: about("resistance, a, b, c", () => ntcTemperature(ohm, given)),
    }),
  }),
  defineFormula({
    id: "ntc-resistance",
    title: "Resistance of a thermistor by Steinhart and Hart",
    source: `${steinhartHart}, solved for the other side`,
    holds: "As ntc-temperature.",
    example: { temperature: 20, a: 0.001129148, b: 0.000234125, c: 8.76741e-8 },
    inputs: { temperature: sensorC, ...coefficients },
    outputs: toResistance,
    compute: ({ temperature, ...given }) => ({
      resistance: about("temperature, a, b, c", () => ntcResistance(temperature, given)),
    }),
  }),
  defineFormula({
    id: "ntc-coefficients",
    title: "Steinhart and Hart's coefficients through three points",
    source: steinhartHart,
    holds:
      "Points a good way apart, from the sensor's own table; a resistance in between comes back with its error.",
    example: { temperatures: [0, 25, 50], resistances: [32128, 9814, 3542], resistance: 12262 },
    inputs: { temperatures: threePoints, resistances: threeOhms, resistance: resistance.optional() },
    outputs: {
      a: result("1/K", "coefficient A"),
      b: result("1/K", "coefficient B"),
      c: result("1/K", "coefficient C"),
      temperature: result("Cel", "temperature at the asked resistance").optional(),
      beyond: z
        .boolean()
        .meta({ description: "the asked resistance lies beyond the three points" })
        .optional(),
    },
    compute: (given) => {
      const found = about("temperatures, resistances", () =>
        steinhartHartOf(pointsOf(given.temperatures, given.resistances)),
      );
      const { resistance: asked } = given;
      return asked === undefined
        ? found
        : {
            ...found,
            temperature: about("resistance", () => ntcTemperature(asked, found)),
            beyond: asked < Math.min(...given.resistances) || asked > Math.max(...given.resistances),
          };
    },
  }),
  defineFormula({
    id: "ntc-beta-temperature",
    title: "Temperature of a thermistor by its B value",
    source: iec60539,
    holds: "Best between the two temperatures of the B value; a few tenths of a degree beyond.",
    example: { resistance: 12000, nominal: 10_000, beta: 3950 },
    inputs: { resistance, ...beta },
    outputs: toTemperature,
    compute: (given) => ({
      temperature: about("resistance, nominal, beta", () =>
        betaTemperature(given.resistance, {
          r0Ohm: given.nominal,
          t0C: given.nominalTemperature,
          betaK: given.beta,
        }),
      ),
    }),
  }),
  defineFormula({
    id: "ntc-beta-resistance",
    title: "Resistance of a thermistor by its B value",
    source: iec60539,
    holds: "As ntc-beta-temperature.",
    example: { temperature: 20, nominal: 10_000, beta: 3950 },
    inputs: { temperature: sensorC, ...beta },
    outputs: toResistance,
    compute: (given) => ({
      resistance: about("temperature, nominal, beta", () =>
        betaResistance(given.temperature, {
          r0Ohm: given.nominal,
          t0C: given.nominalTemperature,
          betaK: given.beta,
        }),
      ),
    }),
  }),
  defineFormula({
    id: "ntc-beta",
    title: "B value of a thermistor from two points",
    source: iec60539,
    holds: "Two points at least 0.1 °C apart, the warmer with the smaller resistance.",
    example: { temperature1: 25, resistance1: 10_000, temperature2: 50, resistance2: 3603 },
    inputs: {
      temperature1: sensorC,
      resistance1: resistance,
      temperature2: sensorC,
      resistance2: resistance,
    },
    outputs: { beta: result("K", "B value") },
    compute: (given) => ({
      beta: about("temperature1, resistance1, temperature2, resistance2", () =>
        betaOf(
          { tC: given.temperature1, ohm: given.resistance1 },
          { tC: given.temperature2, ohm: given.resistance2 },
        ),
      ),
    }),
  }),
  defineFormula({
    id: "platinum-resistance",
    title: "Resistance of a platinum sensor (Pt100, Pt1000)",
    source: iec60751,
    holds: "-200 to 850 °C, ITS-90.",
    example: { temperature: 25 },
    inputs: { temperature: platinumC, nominal: nominalPlatinum },
    outputs: toResistance,
    compute: (given) => ({ resistance: platinumResistance(given.temperature, given.nominal) }),
  }),
  defineFormula({
    id: "platinum-temperature",
    title: "Temperature of a platinum sensor (Pt100, Pt1000)",
    source: iec60751,
    holds: "-200 to 850 °C, ITS-90. Lead resistance is not taken off: 0.385 ohm reads as 1 °C on a Pt100.",
    example: { resistance: 1077.9 },
    inputs: { resistance: quantity("Ohm", 0.1, 400_000, "resistance"), nominal: nominalPlatinum },
    outputs: toTemperature,
    compute: (given) => ({ temperature: platinumTemperature(given.resistance, given.nominal) }),
  }),
  defineFormula({
    id: "platinum-tolerance",
    title: "Greatest error of a platinum sensor of a class",
    source: iec60751,
    holds: "Classes AA, A, B and C, -200 to 850 °C; a sensor's own validity range can be narrower.",
    example: { temperature: 25, class: "A" },
    inputs: {
      temperature: platinumC,
      class: z.enum(["AA", "A", "B", "C"]).meta({ description: "tolerance class" }),
    },
    outputs: { tolerance: result("Cel", "greatest error, either way") },
    compute: (given) => ({ tolerance: platinumToleranceC(given.temperature, given.class) }),
  }),
];
