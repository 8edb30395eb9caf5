import { z } from "zod";
import {
  concentrationFactor,
  meanFeedFactor,
  membraneTemperatureFactor,
  netDrivingPressureKPa,
  normalizedFlow,
  normalizedPassage,
  recoveryOf,
  rejectionOf,
} from "../membrane.ts";
import { about } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const d4516 = "ASTM D4516, standardizing reverse osmosis performance data";
const tC = (text: string) => quantity("Cel", 0, 45, text);
const kPa = (text: string) => quantity("kPa", 0, 10_000, text);
const flow = (text: string) => quantity("L/min", 0, 100_000, text);
const some = (text: string) => quantity("1", 1e-3, 1e6, text);
const temperatureFactor = (text: string) =>
  quantity(
    "1",
    0.1,
    5,
    `${text}, flow over flow at 25 °C by the maker's chart; left out: membrane-temperature`,
  );
const recovery = quantity("1", 0.001, 0.99, "share of the feed that becomes permeate");
const thinFilm =
  "exponential correction of thin-film membranes, 2640 and 3020 K (membrane makers' printed charts)";

/** Rejection, recovery and normalised performance of a reverse-osmosis membrane. */
export const membraneFormulas = [
  defineFormula({
    id: "membrane-recovery",
    title: "Recovery of a membrane from its flows",
    source: "definition: permeate over feed",
    holds: "Flows measured at one moment, not while it starts.",
    example: { permeate: "75 gpd", reject: "225 gpd" },
    inputs: { permeate: flow("permeate flow"), reject: flow("reject flow") },
    outputs: { recovery: result("1", "share of the feed") },
    compute: (given) => ({
      recovery: about("permeate, reject", () => recoveryOf(given.permeate, given.reject)),
    }),
  }),
  defineFormula({
    id: "membrane-rejection",
    title: "Rejection of a membrane from conductivities",
    source: d4516,
    holds:
      "Steady running only: first water after a standstill is always high. With a recovery, also against the mean.",
    example: { feed: 480, permeate: 14, recovery: "25 %" },
    inputs: {
      feed: quantity("uS/cm", 0.1, 1_000_000, "reference conductivity of the feed"),
      permeate: quantity("uS/cm", 0, 1_000_000, "of the permeate"),
      recovery: recovery.optional(),
    },
    outputs: {
      rejection: result("1", "share held back, against the feed"),
      passage: result("1", "share that passes"),
      plausible: z.boolean().meta({
        description: "false: the permeate is above the feed; probes swapped, or water standing still",
      }),
      meanRejection: result("1", "against the mean along the membrane").optional(),
    },
    compute: (given) => {
      const rejection = rejectionOf(given.feed, given.permeate);
      const found = { rejection, passage: 1 - rejection, plausible: rejection >= 0 };
      if (given.recovery === undefined) return found;
      const meanRejection = rejectionOf(given.feed, given.permeate, given.recovery);
      return { ...found, meanRejection };
    },
  }),
  defineFormula({
    id: "membrane-concentration",
    title: "How far the reject and the mean feed are concentrated",
    source: d4516,
    holds: "Recovery 0.1 to 99 %.",
    example: { recovery: "25 %", rejection: "97 %" },
    inputs: { recovery, rejection: quantity("1", 0, 1, "share held back").default(1) },
    outputs: {
      reject: result("1", "reject over feed"),
      mean: result("1", "mean along the membrane over feed"),
    },
    compute: (given) => ({
      reject: concentrationFactor(given.recovery, given.rejection),
      mean: meanFeedFactor(given.recovery),
    }),
  }),
  defineFormula({
    id: "membrane-temperature",
    title: "Permeate flow of a membrane at a temperature over that at 25 °C (TCF)",
    source: thinFilm,
    holds:
      "Thin-film membranes, 0 to 45 °C, at one pressure. Makers' charts differ in the cold: 0.48 here, up to 0.58 elsewhere at 5 °C; the membrane's own chart comes first.",
    example: { temperature: 15 },
    inputs: { temperature: tC("water temperature") },
    outputs: {
      factor: result("1", "flow over flow at 25 °C"),
      divisor: result("1", "the same, as charts print it: rated flow over flow"),
    },
    compute: (given) => {
      const factor = membraneTemperatureFactor(given.temperature);
      return { factor, divisor: 1 / factor };
    },
  }),
  defineFormula({
    id: "membrane-flow",
    title: "Permeate flow in the standard state (normalised, with TCF and NDP)",
    source: `${d4516}; ${thinFilm}`,
    holds:
      "Compare with the same membrane when it was new: 10 to 15 % less is fouling (common practice, no source).",
    example: { permeate: "75 gpd", temperature: 15, feed: "50 psi", standardFeed: "60 psi" },
    inputs: {
      permeate: flow("permeate flow"),
      temperature: tC("water temperature"),
      factor: temperatureFactor("temperature factor").optional(),
      feed: kPa("feed pressure"),
      drop: kPa("feed less reject pressure").default(0),
      permeatePressure: kPa("permeate pressure").default(0),
      osmoticFeed: kPa("osmotic pressure of the mean feed").default(0),
      osmoticPermeate: kPa("osmotic pressure of the permeate").default(0),
      standardTemperature: tC("standard temperature").default(25),
      standardFactor: temperatureFactor("standard temperature factor").optional(),
      standardFeed: kPa("standard feed pressure"),
      standardDrop: kPa("standard drop").default(0),
      standardPermeatePressure: kPa("standard permeate pressure").default(0),
      standardOsmoticFeed: kPa("standard osmotic pressure of the mean feed").default(0),
      standardOsmoticPermeate: kPa("standard osmotic pressure of the permeate").default(0),
    },
    outputs: {
      flow: result("L/min", "permeate flow in the standard state"),
      netPressure: result("kPa", "net driving pressure"),
      standardNetPressure: result("kPa", "in the standard state"),
    },
    compute: (given) => {
      const actual = {
        feedKPa: given.feed,
        dropKPa: given.drop,
        permeateKPa: given.permeatePressure,
        osmoticFeedKPa: given.osmoticFeed,
        osmoticPermeateKPa: given.osmoticPermeate,
      };
      const standard = {
        feedKPa: given.standardFeed,
        dropKPa: given.standardDrop,
        permeateKPa: given.standardPermeatePressure,
        osmoticFeedKPa: given.standardOsmoticFeed,
        osmoticPermeateKPa: given.standardOsmoticPermeate,
      };
      const netPressure = about("feed, drop, permeatePressure and osmotic pressures", () =>
        netDrivingPressureKPa(actual),
      );
      const standardNetPressure = about(
        "standardFeed, standardDrop, standardPermeatePressure and standard osmotic pressures",
        () => netDrivingPressureKPa(standard),
      );
      return {
        flow: normalizedFlow(
          given.permeate,
          { ...actual, tC: given.temperature, temperatureFactor: given.factor },
          { ...standard, tC: given.standardTemperature, temperatureFactor: given.standardFactor },
        ),
        netPressure,
        standardNetPressure,
      };
    },
  }),
  defineFormula({
    id: "membrane-passage",
    title: "Salt passage in the standard state",
    source: `${d4516}; the salt's temperature factor taken as the water's (common practice, no source)`,
    holds:
      "Steady running, high rejection. Concentrations in any one unit. The standard flow is what the membrane gives in the standard state: membrane-flow gives it.",
    example: {
      passage: "3 %",
      permeate: 0.2,
      temperature: 15,
      feed: 480,
      meanFeed: 552,
      standardPermeate: 0.25,
      standardFeed: 500,
      standardMeanFeed: 575,
    },
    inputs: {
      passage: quantity("1", 0, 1, "salt passage as measured"),
      permeate: quantity("L/min", 1e-6, 100_000, "permeate flow"),
      temperature: tC("water temperature"),
      factor: temperatureFactor("temperature factor").optional(),
      feed: some("concentration of the feed"),
      meanFeed: some("mean along the membrane"),
      standardPermeate: quantity("L/min", 1e-6, 100_000, "permeate flow in the standard state"),
      standardTemperature: tC("standard temperature").default(25),
      standardFactor: temperatureFactor("standard temperature factor").optional(),
      standardFeed: some("standard feed"),
      standardMeanFeed: some("standard mean"),
    },
    outputs: { passage: result("1", "salt passage in the standard state") },
    compute: (given) => ({
      passage: about("passage, permeate, feed, meanFeed", () =>
        normalizedPassage(
          given.passage,
          {
            permeateLPerMin: given.permeate,
            tC: given.temperature,
            temperatureFactor: given.factor,
            feed: given.feed,
            meanFeed: given.meanFeed,
          },
          {
            permeateLPerMin: given.standardPermeate,
            tC: given.standardTemperature,
            temperatureFactor: given.standardFactor,
            feed: given.standardFeed,
            meanFeed: given.standardMeanFeed,
          },
        ),
      ),
    }),
  }),
];
