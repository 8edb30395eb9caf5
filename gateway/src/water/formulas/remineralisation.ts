import { z } from "zod";
import { mccleskeyConductivity } from "../ions/conductivity-of-ions.ts";
import type { IonAmounts } from "../ions/ion.ts";
import { hardnessOfIons, ionsOfSalts, saltsToAdd } from "../remineralisation.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const asCalciumCarbonate = "mg{CaCO3}/L";
const hardness = (text: string) => quantity(asCalciumCarbonate, 0, 2000, text);
const salt = (text: string) => quantity("mg/L", 0, 5000, text).default(0);
const stoichiometry = "stoichiometry, standard atomic weights (IUPAC, abridged)";
const conductivityBy = "conductivity as conductivity-of-ions";

/** Conductivity of added ions: none where there are none. */
function kappa25Of(amounts: IonAmounts): number {
  return Object.values(amounts).some((amount) => amount > 0) ? mccleskeyConductivity(amounts, 25).kappa : 0;
}

/** Salts that give pure water its hardness and alkalinity back. */
export const remineralisationFormulas = [
  defineFormula({
    id: "remineralisation",
    title: "Salts to add to water behind a membrane or resin for a wanted GH and KH",
    source: `${stoichiometry}; ${conductivityBy}`,
    holds:
      "GH is hardness, KH alkalinity; both may be given in dH. Dissolve each salt by itself, bicarbonate last; let it stand in air, then measure. Salts as sold hold damp: correct by the measured conductivity.",
    example: { hardness: "6 dH", alkalinity: "4 dH", volume: "200 L", kappa25Before: 10 },
    inputs: {
      hardness: hardness("GH wanted"),
      alkalinity: hardness("KH wanted"),
      volume: quantity("L", 0.001, 1_000_000, "volume").default(100),
      hardnessBefore: hardness("GH that is there").default(0),
      alkalinityBefore: hardness("KH that is there").default(0),
      kappa25Before: quantity("uS/cm", 0, 2000, "reference conductivity that is there").default(0),
      calciumShare: quantity(
        "1",
        0,
        1,
        "share of the hardness that calcium brings, the rest magnesium",
      ).default(0.75),
      calciumSalt: z
        .enum(["calcium-chloride-dihydrate", "calcium-chloride", "calcium-sulfate-dihydrate"])
        .default("calcium-chloride-dihydrate")
        .meta({ description: "where the calcium comes from; sulfate (gypsum) dissolves slowly" }),
      magnesiumSalt: z
        .enum(["magnesium-sulfate-heptahydrate", "magnesium-sulfate", "magnesium-chloride-hexahydrate"])
        .default("magnesium-sulfate-heptahydrate")
        .meta({ description: "where the magnesium comes from" }),
      bicarbonateSalt: z
        .enum(["sodium-bicarbonate", "potassium-bicarbonate"])
        .default("sodium-bicarbonate")
        .meta({ description: "where the alkalinity comes from" }),
    },
    outputs: {
      calciumSalt: result("mg/L", "calcium salt"),
      magnesiumSalt: result("mg/L", "magnesium salt"),
      bicarbonateSalt: result("mg/L", "bicarbonate salt"),
      calciumSaltMass: result("g", "calcium salt for the volume"),
      magnesiumSaltMass: result("g", "magnesium salt for the volume"),
      bicarbonateSaltMass: result("g", "bicarbonate salt for the volume"),
      kappa25: result("uS/cm", "reference conductivity that it gives, with what was there"),
    },
    compute: (given) => {
      const salts = saltsToAdd(given);
      const grams = (mgPerL: number) => (mgPerL * given.volume) / 1000;
      const calcium = salts[given.calciumSalt] ?? 0;
      const magnesium = salts[given.magnesiumSalt] ?? 0;
      const bicarbonate = salts[given.bicarbonateSalt] ?? 0;
      return {
        calciumSalt: calcium,
        magnesiumSalt: magnesium,
        bicarbonateSalt: bicarbonate,
        calciumSaltMass: grams(calcium),
        magnesiumSaltMass: grams(magnesium),
        bicarbonateSaltMass: grams(bicarbonate),
        kappa25: given.kappa25Before + kappa25Of(ionsOfSalts(salts)),
      };
    },
  }),
  defineFormula({
    id: "water-of-salts",
    title: "GH, KH and conductivity of pure water with salts in it",
    source: `${stoichiometry}; ${conductivityBy}`,
    holds: "All dissolved, none precipitated. Crystal water counts: take the salt that is on the label.",
    example: {
      sodiumBicarbonate: 96,
      calciumSulfateDihydrate: 60,
      magnesiumSulfate: 60,
      potassiumChloride: 4,
    },
    inputs: {
      calciumChloride: salt("calcium chloride, dry"),
      calciumChlorideDihydrate: salt("calcium chloride, 2 H2O"),
      calciumSulfateDihydrate: salt("calcium sulfate (gypsum), 2 H2O"),
      magnesiumSulfate: salt("magnesium sulfate, dry"),
      magnesiumSulfateHeptahydrate: salt("magnesium sulfate (Epsom salt), 7 H2O"),
      magnesiumChlorideHexahydrate: salt("magnesium chloride, 6 H2O"),
      sodiumBicarbonate: salt("sodium bicarbonate"),
      potassiumBicarbonate: salt("potassium bicarbonate"),
      potassiumChloride: salt("potassium chloride"),
      sodiumChloride: salt("sodium chloride"),
    },
    outputs: {
      hardness: result(asCalciumCarbonate, "GH"),
      alkalinity: result(asCalciumCarbonate, "KH"),
      kappa25: result("uS/cm", "reference conductivity, at 25 °C"),
    },
    compute: (given) => {
      const amounts = ionsOfSalts({
        "calcium-chloride": given.calciumChloride,
        "calcium-chloride-dihydrate": given.calciumChlorideDihydrate,
        "calcium-sulfate-dihydrate": given.calciumSulfateDihydrate,
        "magnesium-sulfate": given.magnesiumSulfate,
        "magnesium-sulfate-heptahydrate": given.magnesiumSulfateHeptahydrate,
        "magnesium-chloride-hexahydrate": given.magnesiumChlorideHexahydrate,
        "sodium-bicarbonate": given.sodiumBicarbonate,
        "potassium-bicarbonate": given.potassiumBicarbonate,
        "potassium-chloride": given.potassiumChloride,
        "sodium-chloride": given.sodiumChloride,
      });
      return { ...hardnessOfIons(amounts), kappa25: kappa25Of(amounts) };
    },
  }),
];
