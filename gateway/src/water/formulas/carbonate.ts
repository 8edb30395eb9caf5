import { convert, convertBasis, requireInRange } from "../../quantities/index.ts";
import { airWater } from "../carbonate/air-water.ts";
import { carbonateForms } from "../carbonate/carbonate.ts";
import { carbonateConstants, carbonateRangeC } from "../carbonate/constants.ts";
import { hardnessOf, hardnessParts } from "../carbonate/hardness.ts";
import { about } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const asCalciumCarbonate = "mg{CaCO3}/L";
const hardness = quantity(asCalciumCarbonate, 0, 100_000, "total hardness");
const alkalinity = quantity(asCalciumCarbonate, 0, 100_000, "total alkalinity");
const temperature = quantity("Cel", carbonateRangeC.min, carbonateRangeC.max, "water temperature");
const constants = "Plummer and Busenberg, Geochim. Cosmochim. Acta 46 (1982) 1011";
const hardnessUnits = {
  dH: "[dH]",
  fH: "[fH]",
  clark: "[clark]",
  grains: "[gr]/[gal_us]",
  meq: "meq/L",
  mmol: "mmol/L",
} as const;

/** Hardness, alkalinity and carbonate. */
export const carbonateFormulas = [
  defineFormula({
    id: "hardness",
    title: "Hardness from calcium and magnesium",
    source: "Standard Methods for the Examination of Water and Wastewater, 2340 B",
    holds: "Any water; strontium and the like are left out.",
    example: { calcium: 25, magnesium: 14 },
    inputs: {
      calcium: quantity("mg/L", 0, 100_000, "calcium"),
      magnesium: quantity("mg/L", 0, 100_000, "magnesium"),
    },
    outputs: { hardness: result(asCalciumCarbonate, "total hardness") },
    compute: (given) => ({ hardness: hardnessOf(given.calcium, given.magnesium) }),
  }),
  defineFormula({
    id: "hardness-parts",
    title: "Carbonate and non-carbonate hardness",
    source: "Standard Methods for the Examination of Water and Wastewater, 2340 A",
    holds: "Both as CaCO3.",
    example: { hardness: "12 dH", alkalinity: "8 dKH" },
    inputs: { hardness, alkalinity },
    outputs: {
      carbonate: result(asCalciumCarbonate, "carbonate hardness"),
      nonCarbonate: result(asCalciumCarbonate, "non-carbonate hardness"),
      beyond: result(asCalciumCarbonate, "alkalinity beyond hardness"),
    },
    compute: (given) => {
      const parts = hardnessParts(given.hardness, given.alkalinity);
      return {
        carbonate: parts.carbonateMgPerL,
        nonCarbonate: parts.nonCarbonateMgPerL,
        beyond: parts.alkalinityBeyondMgPerL,
      };
    },
  }),
  defineFormula({
    id: "hardness-units",
    title: "Hardness or alkalinity in the units it is sold in",
    source: "atomic weights of CaCO3 and CaO; NIST SP 811 for grain and gallon",
    holds: "1 mmol/L is one of CaCO3, so two equivalents.",
    example: { hardness: 150 },
    inputs: { hardness },
    outputs: {
      dH: result("[dH]", "German degrees"),
      fH: result("[fH]", "French degrees"),
      clark: result("[clark]", "English degrees"),
      grains: result("[gr]/[gal_us]", "grains in a US gallon"),
      meq: result("meq/L", "equivalents"),
      mmol: result("mmol/L", "amount of CaCO3"),
    },
    compute: (given) => {
      const to = (unit: string) => convert(given.hardness, asCalciumCarbonate, unit);
      return {
        dH: to(hardnessUnits.dH),
        fH: to(hardnessUnits.fH),
        clark: to(hardnessUnits.clark),
        grains: to(hardnessUnits.grains),
        meq: to(hardnessUnits.meq),
        mmol: to(hardnessUnits.mmol),
      };
    },
  }),
  defineFormula({
    id: "alkalinity-of-bicarbonate",
    title: "Alkalinity from bicarbonate",
    source: "Hem, USGS Water-Supply Paper 2254 (1985), p. 57: 0.8202",
    holds: "Where bicarbonate makes up the alkalinity (pH 6 to 9).",
    example: { bicarbonate: 170 },
    inputs: { bicarbonate: quantity("mg/L", 0, 100_000, "bicarbonate") },
    outputs: { alkalinity: result(asCalciumCarbonate, "alkalinity") },
    compute: (given) => ({ alkalinity: convertBasis(given.bicarbonate, "HCO3", "CaCO3") }),
  }),
  defineFormula({
    id: "bicarbonate-of-alkalinity",
    title: "Bicarbonate from alkalinity",
    source: "Hem, USGS Water-Supply Paper 2254 (1985), p. 57: divided by 0.8202",
    holds: "Where bicarbonate makes up the alkalinity (pH 6 to 9).",
    example: { alkalinity: "8 dKH" },
    inputs: { alkalinity },
    outputs: { bicarbonate: result("mg/L", "bicarbonate") },
    compute: (given) => ({ bicarbonate: convertBasis(given.alkalinity, "CaCO3", "HCO3") }),
  }),
  defineFormula({
    id: "carbonate-constants",
    title: "Constants of carbonate in dilute water",
    source: constants,
    holds: "0 to 50 °C, infinite dilution.",
    example: { temperature: 25 },
    inputs: { temperature },
    outputs: {
      pK1: result("1", "of carbonic acid"),
      pK2: result("1", "of bicarbonate"),
      pKHenry: result("1", "of CO2 dissolving, mol/kg for 1 atm"),
    },
    compute: (given) => carbonateConstants(given.temperature),
  }),
  defineFormula({
    id: "carbon-dioxide-of-ph",
    title: "Carbon dioxide and carbonate from pH and alkalinity",
    source: `${constants}; activities by Davies`,
    holds:
      "All alkalinity taken for carbonate and hydroxide. A pH 0.1 wrong is CO2 26 % wrong. Fresh water to 20 mS/cm.",
    example: { pH: 7.4, alkalinity: "8 dKH", temperature: 24, kappa25: 450 },
    inputs: {
      pH: quantity("[pH]", 4, 11, "pH"),
      alkalinity,
      temperature: temperature.default(25),
      kappa25: quantity("uS/cm", 0, 20_000, "reference conductivity; 0: infinite dilution").default(0),
    },
    outputs: {
      carbonDioxide: result("mg/L", "free CO2"),
      bicarbonate: result("mg/L", "bicarbonate"),
      carbonate: result("mg/L", "carbonate"),
      total: result("mmol/L", "all three"),
      gas: result("ppm", "CO2 of a gas in equilibrium with it, of 1 atm"),
    },
    compute: (given) => {
      const forms = about("pH, alkalinity", () =>
        carbonateForms(given.pH, given.alkalinity, given.temperature, given.kappa25),
      );
      const hint = "That is more CO2 than open water can hold: pH or alkalinity is wrong.";
      about("pH, alkalinity", () =>
        requireInRange("gas in equilibrium with it", forms.carbonDioxidePpm, 0, 1e6, "ppm", hint),
      );
      return {
        carbonDioxide: forms.carbonDioxideMgPerL,
        bicarbonate: forms.bicarbonateMgPerL,
        carbonate: forms.carbonateMgPerL,
        total: forms.totalMmolPerL,
        gas: forms.carbonDioxidePpm,
      };
    },
  }),
  defineFormula({
    id: "air-water",
    title: "Pure water in equilibrium with air",
    source: `${constants}; IAPWS R11-07`,
    holds: "What purified water reads at least when it stands open: outdoor air 420 ppm, a closed room more.",
    example: { temperature: 20, carbonDioxide: 800 },
    inputs: {
      temperature,
      carbonDioxide: quantity("ppm", 0, 100_000, "CO2 of the air, of 1 atm").default(420),
    },
    outputs: {
      kappa: result("uS/cm", "conductivity at the water's temperature"),
      pH: result("[pH]", "pH"),
      dissolved: result("mg/L", "free CO2"),
    },
    compute: (given) => {
      const found = airWater(given.temperature, given.carbonDioxide);
      return { kappa: found.kappa, pH: found.pH, dissolved: found.carbonDioxideMgPerL };
    },
  }),
];
