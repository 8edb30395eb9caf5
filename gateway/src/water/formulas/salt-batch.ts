import { z } from "zod";
import { litresToReach, mixtureOf } from "../dilution.ts";
import { blendFor, blendOf, saltBatch, saltCorrection } from "../salt-batch.ts";
import { salinityOfSpecificGravity, specificGravity } from "../sea-density.ts";
import { about, requireSameLength } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const eos80 = "EOS-80: UNESCO Technical Papers in Marine Science 44 (1983)";
const byMass = `${eos80}; sea salt per unit of salinity: Millero et al., Deep-Sea Res. I 55 (2008) 50`;
const tC = quantity("Cel", -2, 40, "water temperature");
const referenceTC = quantity("Cel", -2, 40, "temperature of the pure water it is compared with");
const salinity = quantity("{PSU}", 0, 42, "practical salinity");
const volume = quantity("L", 0.001, 1_000_000, "volume");
const saltYield = quantity("kg/kg", 0.5, 1, "dry sea salt in a kg of the product").default(1);
const volumes = z.array(volume).min(1).max(1000);
const madeBySalt =
  "Sea salts differ: weigh to this, mix a day, measure, correct. What is not salt in the product is counted as water.";

function pairs<Second>(litres: readonly number[], others: readonly Second[], name: string) {
  requireSameLength({ volumes: litres, [name]: others });
  return litres.map((volumeL, place) => [volumeL, others[place] as Second] as const);
}

/** Specific gravity; salt, water and corrections for a batch; dilution and blending. */
export const saltBatchFormulas = [
  defineFormula({
    id: "specific-gravity",
    title: "Specific gravity of salt water at stated temperatures",
    source: eos80,
    holds: "The same water reads 1.0264 at 25/25 and 1.0234 at 25/4: both temperatures are stated.",
    example: { salinity: 35, temperature: 25, reference: 25 },
    inputs: { salinity, temperature: tC, reference: referenceTC },
    outputs: { gravity: result("1", "density over that of pure water at the reference temperature") },
    compute: (given) => ({
      gravity: specificGravity(given.salinity, given.temperature, given.reference),
    }),
  }),
  defineFormula({
    id: "salinity-of-specific-gravity",
    title: "Practical salinity from specific gravity at stated temperatures",
    source: `${eos80}, solved for the other side`,
    holds: "A hydrometer's 0.001 is 1.3 in salinity. The reference temperature stands on the instrument.",
    example: { gravity: 1.0264, temperature: 25, reference: 25 },
    inputs: {
      gravity: quantity("1", 0.98, 1.05, "specific gravity"),
      temperature: tC,
      reference: referenceTC,
    },
    outputs: { salinity: result("{PSU}", "practical salinity") },
    compute: (given) => ({
      salinity: about("gravity", () =>
        salinityOfSpecificGravity(given.gravity, given.temperature, given.reference),
      ),
    }),
  }),
  defineFormula({
    id: "salt-batch",
    title: "Salt and fresh water for a batch",
    source: byMass,
    holds: madeBySalt,
    example: { volume: "200 L", salinity: 33, temperature: 24 },
    inputs: { volume, salinity, temperature: tC, saltYield },
    outputs: { salt: result("kg", "salt to weigh"), water: result("L", "fresh water") },
    compute: (given) => {
      const batch = saltBatch(
        { volumeL: given.volume, salinity: given.salinity },
        given.temperature,
        given.saltYield,
      );
      return { salt: batch.saltKg, water: batch.waterL };
    },
  }),
  defineFormula({
    id: "salt-correction",
    title: "What brings a batch to its salinity: salt or fresh water to add",
    source: byMass,
    holds: `${madeBySalt} Where the drum is full, exchange: take so many litres out and put the same mass of fresh in.`,
    example: { volume: "200 L", salinity: 35.5, target: 33, temperature: 24 },
    inputs: {
      volume,
      salinity: quantity("{PSU}", 0, 42, "practical salinity as measured"),
      target: quantity("{PSU}", 0.1, 42, "practical salinity wanted"),
      temperature: tC,
      saltYield,
    },
    outputs: {
      add: z.enum(["nothing", "salt", "water"]).meta({ description: "what to add" }),
      salt: result("kg", "salt to add").optional(),
      water: result("L", "fresh water to add").optional(),
      volumeAfter: result("L", "content after adding water").optional(),
      exchange: result("L", "or: litres to exchange for fresh water").optional(),
    },
    compute: (given) => {
      const drum = { volumeL: given.volume, salinity: given.salinity };
      const correction = saltCorrection(drum, given.target, given.temperature, given.saltYield);
      if (correction.add === "nothing") return { add: correction.add };
      if (correction.add === "salt") return { add: correction.add, salt: correction.saltKg };
      const { waterL, volumeAfterL, exchangeL } = correction;
      return { add: correction.add, water: waterL, volumeAfter: volumeAfterL, exchange: exchangeL };
    },
  }),
  defineFormula({
    id: "salt-blend",
    title: "Drums of salt water poured together",
    source: byMass,
    holds: "All at one temperature.",
    example: { volumes: [120, 80], salinities: [35, 30], temperature: 24 },
    inputs: { volumes, salinities: z.array(salinity).min(1).max(1000), temperature: tC },
    outputs: { volume: result("L", "volume"), salinity: result("{PSU}", "practical salinity") },
    compute: (given) => {
      const parts = pairs(given.volumes, given.salinities, "salinities");
      const blend = blendOf(
        parts.map(([volumeL, of]) => ({ volumeL, salinity: of })),
        given.temperature,
      );
      return { volume: blend.volumeL, salinity: blend.salinity };
    },
  }),
  defineFormula({
    id: "salt-blend-for",
    title: "Litres of two waters that give a wanted salinity",
    source: byMass,
    holds: "All at one temperature; the wanted salinity from one water's to the other's.",
    example: { volume: "200 L", salinity: 33, first: 36, second: 0, temperature: 24 },
    inputs: {
      volume,
      salinity: quantity("{PSU}", 0, 42, "practical salinity wanted"),
      first: quantity("{PSU}", 0, 42, "practical salinity of the first water"),
      second: quantity("{PSU}", 0, 42, "practical salinity of the second water"),
      temperature: tC,
    },
    outputs: { firstVolume: result("L", "of the first"), secondVolume: result("L", "of the second") },
    compute: (given) => {
      const wanted = { volumeL: given.volume, salinity: given.salinity };
      const litres = about("first, second", () =>
        blendFor(wanted, [given.first, given.second], given.temperature),
      );
      return { firstVolume: litres.firstL, secondVolume: litres.secondL };
    },
  }),
  defineFormula({
    id: "mixture",
    title: "Dilute waters poured together",
    source: "conservation of mass",
    holds: "Any one unit throughout: mg/L, meq/L, dH. Conductivity only nearly.",
    example: { volumes: [150, 50], concentrations: [4, 300] },
    inputs: {
      volumes,
      concentrations: z
        .array(quantity("1", 0, 1_000_000, "concentration, any one unit"))
        .min(1)
        .max(1000),
    },
    outputs: { volume: result("L", "volume"), concentration: result("1", "in the same unit") },
    compute: (given) => {
      const parts = pairs(given.volumes, given.concentrations, "concentrations");
      const mixed = mixtureOf(parts.map(([volumeL, concentration]) => ({ volumeL, concentration })));
      return { volume: mixed.volumeL, concentration: mixed.concentration };
    },
  }),
  defineFormula({
    id: "dilution",
    title: "Water to add to a drum for a wanted concentration",
    source: "conservation of mass: C1 V1 + Cd Vd = Ct (V1 + Vd)",
    holds: "Any one unit throughout. The wanted value between the drum's and the added water's.",
    example: { volume: "200 L", concentration: 40, target: 25 },
    inputs: {
      volume,
      concentration: quantity("1", 0, 1_000_000, "in the drum"),
      target: quantity("1", 0, 1_000_000, "wanted"),
      diluent: quantity("1", 0, 1_000_000, "in the water added").default(0),
    },
    outputs: { water: result("L", "to add") },
    compute: (given) => ({
      water: about("target, diluent", () =>
        litresToReach(
          { volumeL: given.volume, concentration: given.concentration },
          given.target,
          given.diluent,
        ),
      ),
    }),
  }),
];
