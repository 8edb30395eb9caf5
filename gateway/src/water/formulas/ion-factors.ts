import { z } from "zod";
import { requireInRange } from "../../quantities/index.ts";
import { solidsOfAnalysis } from "../ions/analysis.ts";
import { conductivityByFactors } from "../ions/per-mg-factors.ts";
import { about } from "./about.ts";
import { allIons, analysisInputs, analysisOf, mass, massesOf } from "./analysis-inputs.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const { ammonium: _noFactor, fluoride: _noFactorEither, ...factorInputs } = analysisInputs;
const factor = (text: string) => result("mg.cm/L/uS", text);
/** Factors that natural waters have as a rule: Hem, USGS Water-Supply Paper 2254 (1985). */
const usual = { min: 0.55, max: 0.75 } as const;
const hardTap = {
  calcium: 85,
  magnesium: 43,
  sodium: 92,
  potassium: 2.9,
  bicarbonate: 362,
  chloride: 131,
  sulfate: 89,
  nitrate: 20,
};

/** Conductivity from ions by factors, and the factor that a water has of its own. */
export const ionFactorFormulas = [
  defineFormula({
    id: "conductivity-by-ion-factors",
    title: "Reference conductivity (EC) from ions by factors per mg/L",
    source:
      "Standard Methods for the Examination of Water and Wastewater, 20th ed. (1999); Sawyer, McCarty and Parkin (2003); carbonate from memory",
    holds:
      "For the back of an envelope: 4 to 15 % over ten measured waters, for ions hinder each other. Ionic strength to 0.03 mol/L. Better: conductivity-of-ions.",
    example: hardTap,
    inputs: factorInputs,
    outputs: {
      kappa25: result("uS/cm", "reference conductivity, at 25 °C, reading high"),
      ionicStrength: result("mol/L", "ionic strength"),
    },
    compute: (given) =>
      about(allIons, () => conductivityByFactors(massesOf({ ...given, ammonium: 0, fluoride: 0 }))),
  }),
  defineFormula({
    id: "water-own-factor",
    title: "The factor that a water has of its own: sum of ions (TDS) over measured conductivity",
    source: "Hem, USGS Water-Supply Paper 2254 (1985): usually 0.55 to 0.75; Standard Methods 1030 E",
    holds:
      "Take it from the supplier's analysis and a conductivity measured with it, then use it in solids-by-factor. A factor far off says that one of the two is wrong.",
    example: { ...hardTap, kappa25: 1150 },
    inputs: {
      ...analysisInputs,
      silica: mass("silica, as SiO2"),
      kappa25: quantity("uS/cm", 0.1, 1_000_000, "reference conductivity as measured, at 25 °C"),
    },
    outputs: {
      ofSum: factor("plain sum of ions and silica over conductivity"),
      ofResidue: factor("what is left when the water dries, over conductivity"),
      ofCalculated: factor("solids as Standard Methods 1030 E calculates them, over conductivity"),
      sum: result("mg/L", "plain sum of ions and silica"),
      usual: z.boolean().meta({ description: "ofResidue lies from 0.55 to 0.75" }),
    },
    compute: (given) => {
      const solids = solidsOfAnalysis(analysisOf(given, given.silica));
      requireInRange("sum of ions", solids.sumMgPerL, 1e-6, 1e7, "mg/L", "An analysis must name ions.");
      const ofResidue = solids.residueMgPerL / given.kappa25;
      return {
        ofSum: solids.sumMgPerL / given.kappa25,
        ofResidue,
        ofCalculated: solids.calculatedMgPerL / given.kappa25,
        sum: solids.sumMgPerL,
        usual: ofResidue >= usual.min && ofResidue <= usual.max,
      };
    },
  }),
];
