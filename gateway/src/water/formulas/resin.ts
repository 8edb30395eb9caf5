import { z } from "zod";
import {
  type BedCapacityUnit,
  bedCapacityUnits,
  type CapacityUnit,
  capacityUnits,
  convertCapacity,
  equivalentsOf,
} from "../resin/capacity.ts";
import { learnedCapacity } from "../resin/learned-capacity.ts";
import { loadBehindMembrane, loadOfConductivity, resinLoad } from "../resin/load.ts";
import { bedVolumesPerHour, litresToExhaustion } from "../resin/throughput.ts";
import { defineFormula, quantity, result } from "./formula.ts";
import { InputRefused } from "./refused.ts";
import { tapWater } from "./tap-water.ts";

const bed = quantity("L", 0.01, 100_000, "resin in the bed");
const load = quantity("meq/L", 1e-4, 1000, "load of the feed");
const ion = (name: string) => quantity("mg/L", 0, 10_000, name).default(0);
const capacityUnit = z.enum(capacityUnits as [CapacityUnit, ...CapacityUnit[]]);
const bedCapacityUnit = z.enum(bedCapacityUnits as [BedCapacityUnit, ...BedCapacityUnit[]]);
const feed = {
  calcium: ion("calcium"),
  magnesium: ion("magnesium"),
  sodium: ion("sodium"),
  potassium: ion("potassium"),
  ammonium: ion("ammonium"),
  bicarbonate: ion("bicarbonate as HCO3"),
  chloride: ion("chloride"),
  sulfate: ion("sulfate"),
  nitrate: ion("nitrate as NO3"),
  fluoride: ion("fluoride"),
  carbonDioxide: ion("dissolved CO2"),
  silica: ion("silica as SiO2"),
};
const loads = {
  cations: result("meq/L", "cations"),
  anions: result("meq/L", "anions that conduct"),
  carbonDioxide: result("meq/L", "CO2, one site each"),
  silica: result("meq/L", "silica, one site each"),
  anionResin: result("meq/L", "all that the anion resin holds"),
  governing: result("meq/L", "the greater of cations and anion resin"),
};
const weights = "equivalents from IUPAC standard atomic weights (2021)";
const exact = "NIST SP 811 (2008): grain 64.79891 mg, foot 0.3048 m; CaCO3 100.0869 g/mol";

/** Capacity, load and life of resin. */
export const resinFormulas = [
  defineFormula({
    id: "resin-capacity",
    title: "Capacity per volume of resin in another unit of the trade",
    source: exact,
    holds: "To 10 eq/L. Books that take an equivalent of CaCO3 as 50 g differ by 0.09 %.",
    example: { value: 20, from: "k[gr]/[ft_i]3", to: "eq/L" },
    inputs: {
      value: quantity("1", 0, 1e6, "capacity in the first unit"),
      from: capacityUnit.meta({ description: "its unit" }),
      to: capacityUnit.meta({ description: "unit wanted" }),
    },
    outputs: { capacity: result("1", "capacity in the wanted unit") },
    compute: (given) => ({ capacity: convertCapacity(given.value, given.from, given.to) }),
  }),
  defineFormula({
    id: "resin-load",
    title: "Load of a feed on mixed-bed resin, with CO2 and silica",
    source: weights,
    holds: "0 to 10,000 mg/L of each. Conductivity sees neither CO2 nor silica; the anion resin holds both.",
    example: {
      ...tapWater,
      carbonDioxide: 12,
      silica: 8,
    },
    inputs: feed,
    outputs: {
      ...loads,
      governingAsCaCO3: result("mg{CaCO3}/L", "the same, as CaCO3"),
      governingDegrees: result("[dH]", "the same, in German degrees"),
    },
    compute: (given) => {
      const found = resinLoad(given);
      const gPerL = convertCapacity(found.governing / 1000, "eq/L", "g{CaCO3}/L");
      return {
        ...found,
        governingAsCaCO3: gPerL * 1000,
        governingDegrees: convertCapacity(found.governing / 1000, "eq/L", "[dH]"),
      };
    },
  }),
  defineFormula({
    id: "resin-load-of-conductivity",
    title: "Load on resin from reference conductivity, with CO2 and silica apart",
    source:
      "92 to 113 uS/cm for a meq/L: ten ground waters of Stuyfzand, KIWA SWE 87-006 (1987), table 3.1, measured",
    holds:
      "Natural water of 70 to 1,200 uS/cm; elsewhere the interval is a guess. Conductivity sees neither CO2 nor silica: left out, what the anion resin holds is unknown, and a life from the ions alone is an upper bound.",
    example: { kappa25: 477 },
    inputs: {
      kappa25: quantity("uS/cm", 0, 10_000, "reference conductivity of the feed"),
      carbonDioxide: quantity("mg/L", 0, 10_000, "dissolved CO2, where it is known").optional(),
      silica: quantity("mg/L", 0, 10_000, "silica as SiO2, where it is known").optional(),
    },
    outputs: {
      load: result("meq/L", "ionic load: cations, or anions that conduct"),
      low: result("meq/L", "the least that waters of this conductivity had"),
      high: result("meq/L", "the most: count with it where good water matters"),
      carbonDioxide: result("meq/L", "CO2, one site each").nullable(),
      silica: result("meq/L", "silica, one site each").nullable(),
      anionResin: result("meq/L", "all that the anion resin holds").nullable(),
      anionResinLow: result("meq/L", "its low end").nullable(),
      anionResinHigh: result("meq/L", "its high end").nullable(),
      range: z.enum(["measured", "outside"]).meta({
        description: "whether waters of this conductivity were measured",
      }),
    },
    compute: (given) => {
      const { likely, low, high, measured } = loadOfConductivity(given.kappa25);
      const carbonDioxide =
        given.carbonDioxide === undefined
          ? null
          : resinLoad({ carbonDioxide: given.carbonDioxide }).carbonDioxide;
      const silica = given.silica === undefined ? null : resinLoad({ silica: given.silica }).silica;
      const unseen = carbonDioxide === null || silica === null ? null : carbonDioxide + silica;
      return {
        load: likely,
        low,
        high,
        carbonDioxide,
        silica,
        anionResin: unseen === null ? null : likely + unseen,
        anionResinLow: unseen === null ? null : low + unseen,
        anionResinHigh: unseen === null ? null : high + unseen,
        range: measured ? ("measured" as const) : ("outside" as const),
      };
    },
  }),
  defineFormula({
    id: "resin-throughput",
    title: "Litres to exhaustion of a bed, from its capacity and the feed's load",
    source: exact,
    holds: "Capacity of the whole bed. Practice changes at 80 to 90 % of it (common practice, no source).",
    example: { capacity: 6, load: 0.4, bed: 13, flow: 2 },
    inputs: {
      capacity: quantity("1", 1e-6, 1e9, "capacity of the whole bed"),
      unit: bedCapacityUnit.default("eq").meta({ description: "its unit" }),
      load,
      bed: bed.optional(),
      flow: quantity("L/min", 0, 100_000, "flow through the bed").optional(),
    },
    outputs: {
      volume: result("L", "treated to exhaustion"),
      bedVolumes: result("1", "the same, in bed volumes").optional(),
      bedVolumesPerHour: result("/h", "at the flow").optional(),
    },
    compute: (given) => {
      const volume = litresToExhaustion(equivalentsOf(given.capacity, given.unit), given.load);
      if (given.bed === undefined && given.flow !== undefined)
        throw new InputRefused(
          "input-not-understood",
          "bed is missing: flow is told in volumes of the bed, so it needs one.",
        );
      if (given.bed === undefined) return { volume };
      const bedVolumes = volume / given.bed;
      return given.flow === undefined
        ? { volume, bedVolumes }
        : { volume, bedVolumes, bedVolumesPerHour: bedVolumesPerHour(given.flow, given.bed) };
    },
  }),
  defineFormula({
    id: "resin-life",
    title: "Litres to exhaustion of a bed, from its resin's capacity per litre",
    source: exact,
    holds:
      "Capacity per litre of mixed resin, as used: new some 0.46 eq/L, regenerated 0.41 (common practice, no source).",
    example: { capacity: 0.46, bed: 13, load: 0.4 },
    inputs: {
      capacity: quantity("1", 0, 1e6, "capacity per volume"),
      unit: capacityUnit.default("eq/L").meta({ description: "its unit" }),
      bed,
      load,
    },
    outputs: {
      volume: result("L", "treated to exhaustion"),
      bedVolumes: result("1", "litres per litre of resin"),
    },
    compute: (given) => {
      const eqPerL = convertCapacity(given.capacity, given.unit, "eq/L");
      const volume = litresToExhaustion(eqPerL * given.bed, given.load);
      return { volume, bedVolumes: volume / given.bed };
    },
  }),
  defineFormula({
    id: "bed-volumes-per-hour",
    title: "Flow through a bed in bed volumes per hour",
    source: "definition: flow over volume of the bed",
    holds: "Mixed beds run well at 10 to 40 an hour (common practice, no source).",
    example: { flow: "0.5 gal/min", bed: 7 },
    inputs: { flow: quantity("L/min", 0, 100_000, "flow"), bed },
    outputs: { bedVolumesPerHour: result("/h", "bed volumes per hour") },
    compute: (given) => ({ bedVolumesPerHour: bedVolumesPerHour(given.flow, given.bed) }),
  }),
  defineFormula({
    id: "resin-behind-membrane",
    title: "Load on resin behind a membrane, and how much longer it lasts",
    source: weights,
    holds: "CO2 passes the membrane whole: with it the gain is far less than 1 / (1 - rejection).",
    example: {
      calcium: 55,
      magnesium: 12,
      sodium: 28,
      bicarbonate: 170,
      sulfate: 77,
      chloride: 20,
      carbonDioxide: 12,
      silica: 8,
      rejection: "97 %",
    },
    inputs: {
      ...feed,
      rejection: quantity("1", 0, 0.9999, "share of ions that the membrane holds back"),
      silicaRejection: quantity("1", 0, 0.9999, "of silica; left out: as ions").optional(),
    },
    outputs: { ...loads, timesLonger: result("1", "life behind the membrane over life without it") },
    compute: ({ rejection, silicaRejection, ...water }) => {
      const before = resinLoad(water);
      const after = loadBehindMembrane(before, rejection, silicaRejection ?? rejection);
      const timesLonger = after.governing > 0 ? before.governing / after.governing : 1;
      return { ...after, timesLonger };
    },
  }),
  defineFormula({
    id: "learned-capacity",
    title: "Capacity learned from finished media",
    source: "weighted mean, each medium half of the second after it (our own choice)",
    holds: "1 to 1000 media, oldest first. The spread wants at least two.",
    example: { finished: [0.45, 0.43, 0.44] },
    inputs: {
      finished: z
        .array(quantity("eq/L", 0, 10, "capacity that each medium showed, oldest first"))
        .min(1)
        .max(1000),
    },
    outputs: {
      capacity: result("eq/L", "capacity to count with"),
      spread: result("eq/L", "weighted standard deviation").optional(),
      media: result("1", "finished media"),
    },
    compute: (given) => {
      const { eqPerL, spreadEqPerL, media } = learnedCapacity(given.finished);
      return spreadEqPerL === null
        ? { capacity: eqPerL, media }
        : { capacity: eqPerL, spread: spreadEqPerL, media };
    },
  }),
];
