import { z } from "zod";
import {
  bases,
  convert,
  convertBasis,
  type Dimension,
  dimensionUnits,
  plainUnit,
  unitCodes,
  unitOf,
} from "../../quantities/index.ts";
import { about } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";
import { InputRefused } from "./refused.ts";

const unit = (description: string) => z.string().min(1).max(40).meta({ description });
const everyUnit = (Object.keys(dimensionUnits) as Dimension[])
  .map((dimension) => `${dimension}: ${unitCodes(dimension)}`)
  .join("; ");
const basis = (description: string) => z.enum(bases).meta({ description });

const isMassOnly = (text: string) => /^(mg\/L|ppm)$/i.test(plainUnit(text));
const isAmount = (text: string) => ["meq/L", "mmol/L"].includes(unitOf(text, "hardness")?.code ?? "");

/** A mass in a litre is an amount only of something: 100 mg/L of CaCO3 are 2 meq/L, of calcium 5. Throws InputRefused. */
function requireBasis(from: string, to: string): void {
  const mass = [from, to].find(isMassOnly);
  if (mass === undefined || ![from, to].some(isAmount)) return;
  throw new InputRefused(
    "unit-mismatch",
    `from, to: "${mass}" does not say as what: write "${mass} as CaCO3" if that is meant.`,
  );
}

/** Units and the bases of concentrations. */
export const unitFormulas = [
  defineFormula({
    id: "convert",
    title: "A value in another unit",
    source: "NIST SP 811 (2008), app. B; imperial gallon: UK Units of Measurement Regulations 1995",
    holds: "Exact factors. Resistivity and conductivity go into each other; hardness degrees too.",
    example: { value: 55, from: "gal", to: "L" },
    inputs: {
      value: quantity("1", -1e15, 1e15, "the value, in the unit it has"),
      from: unit(`its unit, one of ${everyUnit}; or as the trade writes it: gal, C, F, uS, dH, ppm`),
      to: unit("the unit wanted"),
    },
    outputs: { value: result("1", "the value in the unit wanted") },
    compute: (given) => {
      requireBasis(given.from, given.to);
      const value = about("value, from, to", () => convert(given.value, given.from, given.to));
      if (Number.isFinite(value)) return { value };
      throw new InputRefused(
        "out-of-range",
        `value is ${given.value}: a resistivity or conductivity of 0 has no value the other way round.`,
      );
    },
  }),
  defineFormula({
    id: "convert-concentration",
    title: "A concentration stated as something else",
    source: "IUPAC abridged standard atomic weights",
    holds:
      "Nitrogen (N, NH3, NH4, NO2, NO3), equivalents (CaCO3, CaO, HCO3 …) and chlorine each among themselves.",
    example: { concentration: 40, from: "NO3", to: "N" },
    inputs: {
      concentration: quantity("mg/L", 0, 1e9, "concentration as stated"),
      from: basis("what it is stated as"),
      to: basis("what it is wanted as"),
    },
    outputs: { concentration: result("mg/L", "concentration as wanted") },
    compute: (given) => ({
      concentration: about("from, to", () => convertBasis(given.concentration, given.from, given.to)),
    }),
  }),
];
