import { z } from "zod";
import { requireInRange } from "../../quantities/index.ts";
import { wasMadeFor } from "../compensation-range.ts";
import { kappa25OfSolids, solidsOfKappa25 } from "../dissolved-solids.ts";
import { linear25, linearAt, standardAlphaPerC } from "../linear-compensation.ts";
import { natural25, naturalAt, naturalFactor25, naturalRangeC } from "../natural-compensation.ts";
import {
  atPureWaterLimit,
  pKwOfWater,
  pure25,
  pureAt,
  pureWaterConductivity,
  waterDensityGPerCm3,
} from "../pure-compensation.ts";
import { about } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";
import { InputRefused } from "./refused.ts";

const kappa = quantity("uS/cm", 0, 1_000_000, "conductivity at the water's temperature");
const kappa25 = quantity("uS/cm", 0, 1_000_000, "reference conductivity, at 25 °C");
const toKappa25 = { kappa25: result("uS/cm", "reference conductivity, at 25 °C") };
const toKappa = { kappa: result("uS/cm", "conductivity at the water's temperature") };
const natural = "ISO 7888:1985 / EN 27888:1993, f25 normalised at 25 °C";
const pure =
  "ASTM D1125 and D5391: intrinsic water (IAPWS R11-07, Light et al. 2005) and neutral salt (McCleskey 2011)";
const naturalC = quantity("Cel", naturalRangeC.min, naturalRangeC.max, "water temperature");
const pureC = quantity("Cel", 0, 50, "water temperature");
const alpha = quantity("/Cel", 0, 0.06, "coefficient at 25 °C").default(standardAlphaPerC);
const linearC = quantity("Cel", -2, 50, "water temperature");

const inRange = (text: string) => ({ inRange: z.boolean().meta({ description: text }) });
const naturalRange = inRange("reference conductivity of 60 to 1000 uS/cm, for which it was made");
const pureRange = inRange("reference conductivity to 10 uS/cm, for which it was made; above: natural-25");
const atLimit = z.boolean().meta({ description: "at or under what pure water itself conducts" });
/** Least of 1 + alpha (t - 25): the straight line ends long before it meets nought. */
const leastFactor = 0.2;

function requireLine(temperature: number, coefficient: number): void {
  const share = 1 + coefficient * (temperature - 25);
  const hint = "So far from 25 °C one coefficient says nothing.";
  about("alpha, temperature", () =>
    requireInRange("1 + alpha (temperature - 25)", share, leastFactor, 4, "1", hint),
  );
}

/** Conductivity and temperature; solids. */
export const conductivityFormulas = [
  defineFormula({
    id: "linear-25",
    title: "Conductivity to 25 °C (specific conductance) with one coefficient",
    source: "Standard Methods for the Examination of Water and Wastewater, 2510 B",
    holds: "Within some 2 % from 10 to 25 °C for natural water.",
    example: { kappa: 1321, temperature: 25.5 },
    inputs: { kappa, temperature: linearC, alpha },
    outputs: toKappa25,
    compute: (given) => {
      requireLine(given.temperature, given.alpha);
      return { kappa25: linear25(given.kappa, given.temperature, given.alpha) };
    },
  }),
  defineFormula({
    id: "linear-at",
    title: "Reference conductivity to a temperature with one coefficient",
    source: "Standard Methods for the Examination of Water and Wastewater, 2510 B, solved for the other side",
    holds: "As linear-25.",
    example: { kappa25: 1413, temperature: 20 },
    inputs: { kappa25, temperature: linearC, alpha },
    outputs: toKappa,
    compute: (given) => {
      requireLine(given.temperature, given.alpha);
      return { kappa: linearAt(given.kappa25, given.temperature, given.alpha) };
    },
  }),
  defineFormula({
    id: "natural-25",
    title: "Conductivity of natural water to 25 °C (specific conductance)",
    source: natural,
    holds: "Ground, surface and drinking water of about 60 to 1000 uS/cm, 0 to 35.9 °C.",
    example: { kappa: "300 uS/cm", temperature: "50 F" },
    inputs: { kappa, temperature: naturalC },
    outputs: { ...toKappa25, factor: result("1", "f25"), ...naturalRange },
    compute: (given) => {
      const found = natural25(given.kappa, given.temperature);
      return {
        kappa25: found,
        factor: naturalFactor25(given.temperature),
        inRange: wasMadeFor("natural", found),
      };
    },
  }),
  defineFormula({
    id: "natural-at",
    title: "Reference conductivity of natural water to a temperature",
    source: natural,
    holds: "As natural-25.",
    example: { kappa25: 500, temperature: 12 },
    inputs: { kappa25, temperature: naturalC },
    outputs: { ...toKappa, ...naturalRange },
    compute: (given) => ({
      kappa: naturalAt(given.kappa25, given.temperature),
      inRange: wasMadeFor("natural", given.kappa25),
    }),
  }),
  defineFormula({
    id: "pure-25",
    title: "Conductivity of high-purity water to 25 °C (specific conductance)",
    source: pure,
    holds:
      "After resin or a membrane. At or under what pure water itself conducts it says so, and gives pure water.",
    example: { kappa: 0.1, temperature: 15 },
    inputs: { kappa, temperature: pureC },
    outputs: { ...toKappa25, atLimit, ...pureRange },
    compute: (given) => {
      const found = pure25(given.kappa, given.temperature);
      return {
        kappa25: found,
        atLimit: atPureWaterLimit(given.kappa, given.temperature),
        inRange: wasMadeFor("pure", found),
      };
    },
  }),
  defineFormula({
    id: "pure-at",
    title: "Reference conductivity of high-purity water to a temperature",
    source: pure,
    holds: "As pure-25.",
    example: { kappa25: "18.2 MOhm.cm", temperature: 20 },
    inputs: { kappa25, temperature: pureC },
    outputs: { ...toKappa, atLimit, ...pureRange },
    compute: (given) => ({
      kappa: pureAt(given.kappa25, given.temperature),
      atLimit: atPureWaterLimit(given.kappa25, 25),
      inRange: wasMadeFor("pure", given.kappa25),
    }),
  }),
  defineFormula({
    id: "pure-water",
    title: "Conductivity of water that holds nothing else",
    source: "Light et al., Electrochem. Solid-State Lett. 8 (2005) E16; IAPWS R11-07; Kell 1975",
    holds: "0 to 50 °C, no air: published sets differ by 1 %, at the cold end by 2 %.",
    example: { temperature: 25 },
    inputs: { temperature: pureC },
    outputs: { ...toKappa, resistivity: result("MOhm.cm", "the other way round") },
    compute: (given) => {
      const value = pureWaterConductivity(given.temperature);
      return { kappa: value, resistivity: 1 / value };
    },
  }),
  defineFormula({
    id: "water-ionization",
    title: "pKw of water",
    source: "IAPWS R11-07 (Bandura and Lvov 2006)",
    holds: "0 to 800 °C, 0 to 1.2 g/cm3. Molal scale.",
    example: { temperature: 25 },
    inputs: {
      temperature: quantity("Cel", 0, 800, "water temperature"),
      density: quantity("g/cm3", 0, 1.25, "density; left out: of water at 1 atm, to 100 °C").optional(),
    },
    outputs: { pKw: result("1", "-log10 of the ionization constant") },
    compute: ({ temperature, density }) => {
      if (density === undefined && temperature > 100)
        throw new InputRefused(
          "input-not-understood",
          `density is missing: above 100 Cel it goes with the pressure, and temperature is ${temperature} Cel.`,
        );
      return { pKw: pKwOfWater(temperature + 273.15, density ?? waterDensityGPerCm3(temperature)) };
    },
  }),
  defineFormula({
    id: "solids-by-factor",
    title: "Dissolved solids (TDS) from reference conductivity by a factor",
    source: "Hem, USGS Water-Supply Paper 2254 (1985): factors 0.54 to 0.96, usually 0.55 to 0.75",
    holds: "An estimate on a stated scale, never a weighing.",
    example: { kappa25: 477, factor: 0.65 },
    inputs: { kappa25, factor: quantity("mg.cm/L/uS", 0.3, 1.2, "mg/L per uS/cm") },
    outputs: { solids: result("mg/L", "dissolved solids") },
    compute: (given) => ({
      solids: solidsOfKappa25(given.kappa25, { kind: "factor", mgPerLPerUsPerCm: given.factor }),
    }),
  }),
  defineFormula({
    id: "solids-as-sodium-chloride",
    title: "Dissolved solids (TDS) from reference conductivity, as if all were NaCl",
    source: "McCleskey, J. Chem. Eng. Data 56 (2011) 317",
    holds: "0 to 50 g/L.",
    example: { kappa25: 1413 },
    inputs: { kappa25: quantity("uS/cm", 0, 70_000, "reference conductivity, at 25 °C") },
    outputs: { solids: result("mg/L", "dissolved solids as NaCl") },
    compute: (given) => ({ solids: solidsOfKappa25(given.kappa25, { kind: "nacl" }) }),
  }),
  defineFormula({
    id: "conductivity-of-solids",
    title: "Reference conductivity of solids (TDS) stated on a scale",
    source: "as solids-by-factor and solids-as-sodium-chloride, solved for the other side",
    holds: "Give the factor, or none for NaCl.",
    example: { solids: 250, factor: 0.65 },
    inputs: {
      solids: quantity("mg/L", 0, 50_000, "dissolved solids on the scale"),
      factor: quantity("mg.cm/L/uS", 0.3, 1.2, "mg/L per uS/cm").optional(),
    },
    outputs: toKappa25,
    compute: (given) => ({
      kappa25: kappa25OfSolids(
        given.solids,
        given.factor === undefined ? { kind: "nacl" } : { kind: "factor", mgPerLPerUsPerCm: given.factor },
      ),
    }),
  }),
];
