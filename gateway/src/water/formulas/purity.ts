import { z } from "zod";
import { astmTypeOf, isoGradeOf } from "../purity.ts";
import { defineFormula, quantity } from "./formula.ts";

/** Purity of water by its conductivity. */
export const purityFormulas = [
  defineFormula({
    id: "purity-class",
    title: "Purity class by reference conductivity",
    source: "ASTM D1193-99 and -06; ISO 3696:1987",
    holds:
      "By conductivity alone; both standards also limit silica, and others. By conductivity III is before II. Nothing is purer than pure water, 0.055: what reads less is a fault of the probe.",
    example: { kappa25: "4 MOhm.cm" },
    inputs: { kappa25: quantity("uS/cm", 0.05, 1_000_000, "reference conductivity, at 25 °C") },
    outputs: {
      astm: z.enum(["I", "II", "III", "IV"]).nullable().meta({ description: "ASTM D1193 type" }),
      iso: z
        .union([z.literal(1), z.literal(2), z.literal(3)])
        .nullable()
        .meta({ description: "ISO 3696 grade" }),
    },
    compute: (given) => ({ astm: astmTypeOf(given.kappa25), iso: isoGradeOf(given.kappa25) }),
  }),
];
