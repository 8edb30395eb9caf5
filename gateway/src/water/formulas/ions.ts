import { z } from "zod";
import { chargeBalance, equivalentsOf, solidsOfAnalysis } from "../ions/analysis.ts";
import { mccleskeyConductivity, standardMethodsConductivity25 } from "../ions/conductivity-of-ions.ts";
import { ionConductivity, ionicStrengthOf, ions } from "../ions/ion.ts";
import { kappa25OfNaturalMix, naturalMixOfKappa25, naturalMixRange } from "../natural-mix.ts";
import {
  kappa25OfPotassiumChloride,
  potassiumChlorideOfKappa25,
  potassiumChlorideRange,
} from "../potassium-chloride.ts";
import { about } from "./about.ts";
import { allIons, amountsOf, analysisInputs, analysisOf, mass } from "./analysis-inputs.ts";
import { defineFormula, quantity, result } from "./formula.ts";
import { tapWater } from "./tap-water.ts";

const silica = mass("silica, as SiO2");
const pH = quantity("[pH]", 1, 13, "pH; left out: H+ and OH- don't count").optional();
const kappa25 = result("uS/cm", "reference conductivity, at 25 °C");
const ionicStrength = result("mol/L", "ionic strength");

const mccleskey = "McCleskey et al., Geochim. Cosmochim. Acta 77 (2012) 369";
const salts = "McCleskey, J. Chem. Eng. Data 56 (2011) 317";

/** Ion analyses: charges, solids and conductivity; and the salts that stand for solids. */
export const ionFormulas = [
  defineFormula({
    id: "charge-balance",
    title: "Charge balance of an ion analysis",
    source: "Standard Methods for the Examination of Water and Wastewater, 1030 E",
    holds: "Nitrate as NO3 and ammonium as NH4. Limits from memory.",
    example: {
      calcium: 92,
      magnesium: 34,
      sodium: 8.2,
      potassium: 1.4,
      bicarbonate: 325,
      sulfate: 84,
      chloride: 9.6,
      nitrate: 13,
    },
    inputs: analysisInputs,
    outputs: {
      cations: result("meq/L", "sum of cations"),
      anions: result("meq/L", "sum of anions"),
      percent: result("%", "100 (cations - anions) / (cations + anions)"),
      allowed: result("meq/L", "greatest difference that passes"),
      acceptable: z.boolean().meta({ description: "whether it passes" }),
    },
    compute: (given) => {
      const found = about(allIons, () => chargeBalance(analysisOf(given, 0)));
      return {
        cations: found.cationsMeqPerL,
        anions: found.anionsMeqPerL,
        percent: found.balancePercent,
        allowed: found.allowedMeqPerL,
        acceptable: found.acceptable,
      };
    },
  }),
  defineFormula({
    id: "ion-equivalents",
    title: "Equivalents of an ion",
    source: "charge over molar mass, standard atomic weights (IUPAC, abridged)",
    holds: "Any concentration.",
    example: { ion: "Ca", concentration: 40 },
    inputs: {
      ion: z.enum(ions).meta({ description: "ion" }),
      concentration: quantity("mg/L", 0, 100_000, "concentration of the ion"),
    },
    outputs: { equivalents: result("meq/L", "charge, without sign") },
    compute: (given) => ({ equivalents: equivalentsOf(given.ion, given.concentration) }),
  }),
  defineFormula({
    id: "solids-of-ions",
    title: "Dissolved solids (TDS) of an ion analysis, and the factor that goes with its conductivity",
    source: "Hem, USGS Water-Supply Paper 2254 (1985); Standard Methods 1030 E",
    holds:
      "The factor is residue over reference conductivity: measured where given, else computed from the ions, to 0.7 mol/L.",
    example: {
      ...tapWater,
      kappa25: 477,
    },
    inputs: {
      ...analysisInputs,
      silica,
      kappa25: quantity("uS/cm", 0.05, 1_000_000, "measured reference conductivity").optional(),
    },
    outputs: {
      sum: result("mg/L", "plain sum of ions and silica"),
      residue: result("mg/L", "what is left when the water dries"),
      calculated: result("mg/L", "as Standard Methods 1030 E calculates it"),
      factor: result("mg.cm/L/uS", "residue over reference conductivity").nullable(),
    },
    compute: (given) => {
      const found = solidsOfAnalysis(analysisOf(given, given.silica));
      const amounts = amountsOf(given, undefined);
      const computed = ionicStrengthOf(amounts) <= 0.7 ? mccleskeyConductivity(amounts, 25).kappa : 0;
      const conductivity = given.kappa25 ?? computed;
      return {
        sum: found.sumMgPerL,
        residue: found.residueMgPerL,
        calculated: found.calculatedMgPerL,
        factor: conductivity > 0 ? found.residueMgPerL / conductivity : null,
      };
    },
  }),
  defineFormula({
    id: "conductivity-of-ions-standard",
    title: "Reference conductivity from ions by one activity coefficient",
    source: "Standard Methods for the Examination of Water and Wastewater, 2510 A",
    holds:
      "Ionic strength to 0.02 mol/L. From 9 % under to 8 % over ten measured waters; single salts from 17 % under (KCl) to 20 % over (MgSO4) at the end of its range.",
    example: tapWater,
    inputs: { ...analysisInputs, pH },
    outputs: { kappa25, ionicStrength },
    compute: (given) => {
      const found = about(allIons, () => standardMethodsConductivity25(amountsOf(given, given.pH)));
      return { kappa25: found.kappa, ionicStrength: found.ionicStrength };
    },
  }),
  defineFormula({
    id: "conductivity-of-ions-paired",
    title: "Conductivity from ions at a temperature, with ion pairs",
    source: `${mccleskey}; pairs of calcium and magnesium: Nordstrom et al., ACS Symp. Ser. 416 (1990) 398`,
    holds:
      "Ionic strength to 0.7 mol/kg, 0 to 95 °C. From 1 to 4 % over ten measured waters, one of them 11 %; single salts from 10 % under (Na2SO4) to 6 % over (MgCl2) at 0.1 mol/L of charge.",
    example: {
      ...tapWater,
      temperature: 18,
    },
    inputs: { ...analysisInputs, pH, temperature: quantity("Cel", 0, 95, "water temperature").default(25) },
    outputs: { kappa: result("uS/cm", "conductivity at the water's temperature"), ionicStrength },
    compute: (given) =>
      about(allIons, () => mccleskeyConductivity(amountsOf(given, given.pH), given.temperature)),
  }),
  defineFormula({
    id: "conductivity-of-ions",
    title: "Reference conductivity from ions",
    source: `${mccleskey}; pairs of calcium and magnesium: Nordstrom et al., ACS Symp. Ser. 416 (1990) 398`,
    holds:
      "Ionic strength to 0.7 mol/L: conductivity-of-ions-paired at 25 °C. Stated from 0.0004 mol/L up; under it salts are met to 2 %, where Standard Methods 2510 A is 3 % low.",
    example: tapWater,
    inputs: { ...analysisInputs, pH },
    outputs: { kappa25, ionicStrength },
    compute: (given) => {
      const found = about(allIons, () => mccleskeyConductivity(amountsOf(given, given.pH), 25));
      return { kappa25: found.kappa, ionicStrength: found.ionicStrength };
    },
  }),
  defineFormula({
    id: "ion-conductivity",
    title: "Conductivity of an ion",
    source: mccleskey,
    holds: "0 to 95 °C, ionic strength to 0.7 mol/kg. Fluoride is scaled from chloride.",
    example: { ion: "HCO3", temperature: 25 },
    inputs: {
      ion: z.enum(ions).meta({ description: "ion" }),
      temperature: quantity("Cel", 0, 95, "water temperature").default(25),
      ionicStrength: quantity("mol/kg", 0, 0.7, "ionic strength").default(0),
    },
    outputs: { perMole: result("S.cm2/mol", "molar conductivity") },
    compute: (given) => ({ perMole: ionConductivity(given.ion, given.temperature, given.ionicStrength) }),
  }),
  defineFormula({
    id: "conductivity-of-potassium-chloride",
    title: "Reference conductivity of potassium chloride",
    source: salts,
    holds: "0 to 50 g/L, to 1 %.",
    example: { solids: 744.7 },
    inputs: {
      solids: quantity("mg/L", potassiumChlorideRange.min, potassiumChlorideRange.max, "potassium chloride"),
    },
    outputs: { kappa25 },
    compute: (given) => ({ kappa25: kappa25OfPotassiumChloride(given.solids) }),
  }),
  defineFormula({
    id: "solids-as-potassium-chloride",
    title: "Dissolved solids (TDS) from reference conductivity, as if all were KCl",
    source: salts,
    holds: "0 to 70,000 uS/cm.",
    example: { kappa25: 1413 },
    inputs: { kappa25: quantity("uS/cm", 0, 70_000, "reference conductivity, at 25 °C") },
    outputs: { solids: result("mg/L", "dissolved solids as KCl") },
    compute: (given) => ({ solids: potassiumChlorideOfKappa25(given.kappa25) }),
  }),
  defineFormula({
    id: "conductivity-of-natural-mix",
    title: "Reference conductivity of the natural mix",
    source: `40 % Na2SO4, 40 % NaHCO3, 20 % NaCl by mass; ${mccleskey}`,
    holds: "Printed tables are met to 2 % under 2,100 mg/L and to 4 % above.",
    example: { solids: 1000 },
    inputs: { solids: quantity("mg/L", naturalMixRange.min, naturalMixRange.max, "the mix") },
    outputs: { kappa25 },
    compute: (given) => ({ kappa25: kappa25OfNaturalMix(given.solids) }),
  }),
  defineFormula({
    id: "solids-as-natural-mix",
    title: "Dissolved solids (TDS) from reference conductivity, as if all were the natural mix",
    source: `40 % Na2SO4, 40 % NaHCO3, 20 % NaCl by mass; ${mccleskey}`,
    holds: "0 to 14,800 uS/cm.",
    example: { kappa25: 1413 },
    inputs: { kappa25: quantity("uS/cm", 0, 14_800, "reference conductivity, at 25 °C") },
    outputs: { solids: result("mg/L", "dissolved solids as the natural mix") },
    compute: (given) => ({ solids: naturalMixOfKappa25(given.kappa25) }),
  }),
];
