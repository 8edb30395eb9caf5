import { z } from "zod";
import { bases, convert, convertBasis, requireInRange } from "../../quantities/index.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const unit = (description: string) => z.string().min(1).max(40).meta({ description });
const basis = (description: string) => z.enum(bases).meta({ description });

/** Units and the bases of concentrations. */
export const unitFormulas = [
  defineFormula({
    id: "convert",
    title: "A value in another unit",
    source: "NIST SP 811 (2008), app. B; imperial gallon: UK Units of Measurement Regulations 1995",
    holds: "Exact factors. Resistivity and conductivity go into each other; hardness degrees too.",
    inputs: {
      value: quantity("1", -1e15, 1e15, "the value, in the unit it has"),
      from: unit("its unit, UCUM or as the trade writes it"),
      to: unit("the unit wanted"),
    },
    outputs: { value: result("1", "the value in the unit wanted") },
    compute: (given) => {
      const value = convert(given.value, given.from, given.to);
      const hint = "A resistivity or conductivity of 0 has no value the other way round.";
      requireInRange("value", value, -Number.MAX_VALUE, Number.MAX_VALUE, "1", hint);
      return { value };
    },
  }),
  defineFormula({
    id: "convert-concentration",
    title: "A concentration stated as something else",
    source: "IUPAC abridged standard atomic weights",
    holds:
      "Nitrogen (N, NH3, NH4, NO2, NO3), equivalents (CaCO3, CaO, HCO3 …) and chlorine each among themselves.",
    inputs: {
      concentration: quantity("mg/L", 0, 1e9, "concentration as stated"),
      from: basis("what it is stated as"),
      to: basis("what it is wanted as"),
    },
    outputs: { concentration: result("mg/L", "concentration as wanted") },
    compute: (given) => ({ concentration: convertBasis(given.concentration, given.from, given.to) }),
  }),
];
