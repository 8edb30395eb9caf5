import type { MgPerL } from "../quantities/index.ts";
import { gramsOfBasis, requireInRange } from "../quantities/index.ts";
import { type Ion, type IonAmounts, ions } from "./ions/ion.ts";

/** Salts that give water its hardness and alkalinity back. */
const mineralSalts = [
  "calcium-chloride",
  "calcium-chloride-dihydrate",
  "calcium-sulfate-dihydrate",
  "magnesium-sulfate",
  "magnesium-sulfate-heptahydrate",
  "magnesium-chloride-hexahydrate",
  "sodium-bicarbonate",
  "potassium-bicarbonate",
  "potassium-chloride",
  "sodium-chloride",
] as const;
/** One of them. */
export type MineralSalt = (typeof mineralSalts)[number];

interface SaltFacts {
  /** From the standard atomic weights (IUPAC, abridged), water of crystals included. */
  readonly gPerMol: number;
  /** Ions of one formula unit. */
  readonly gives: Readonly<Partial<Record<Ion, number>>>;
}

const water = 18.01528;
const facts: Readonly<Record<MineralSalt, SaltFacts>> = {
  "calcium-chloride": { gPerMol: 110.984, gives: { Ca: 1, Cl: 2 } },
  "calcium-chloride-dihydrate": { gPerMol: 110.984 + 2 * water, gives: { Ca: 1, Cl: 2 } },
  "calcium-sulfate-dihydrate": { gPerMol: 136.1406 + 2 * water, gives: { Ca: 1, SO4: 1 } },
  "magnesium-sulfate": { gPerMol: 120.3676, gives: { Mg: 1, SO4: 1 } },
  "magnesium-sulfate-heptahydrate": { gPerMol: 120.3676 + 7 * water, gives: { Mg: 1, SO4: 1 } },
  "magnesium-chloride-hexahydrate": { gPerMol: 95.211 + 6 * water, gives: { Mg: 1, Cl: 2 } },
  "sodium-bicarbonate": { gPerMol: 84.0066, gives: { Na: 1, HCO3: 1 } },
  "potassium-bicarbonate": { gPerMol: 100.1151, gives: { K: 1, HCO3: 1 } },
  "potassium-chloride": { gPerMol: 74.5513, gives: { K: 1, Cl: 1 } },
  "sodium-chloride": { gPerMol: 58.4428, gives: { Na: 1, Cl: 1 } },
};

/** g/mol of calcium carbonate, of which hardness and alkalinity are stated. */
const calciumCarbonate = 2 * gramsOfBasis("CaCO3");

/** mg/L of salts as mmol/L of ions. Throws OutOfRange for a negative one or more than 100 g/L. */
export function ionsOfSalts(salts: Readonly<Partial<Record<MineralSalt, MgPerL>>>): IonAmounts {
  const amounts: Partial<Record<Ion, number>> = {};
  for (const salt of mineralSalts) {
    const mgPerL = salts[salt] ?? 0;
    requireInRange(salt, mgPerL, 0, 100_000, "mg/L");
    for (const ion of ions) {
      const units = facts[salt].gives[ion] ?? 0;
      if (units > 0 && mgPerL > 0)
        amounts[ion] = (amounts[ion] ?? 0) + (units * mgPerL) / facts[salt].gPerMol;
    }
  }
  return amounts;
}

/** Hardness of calcium and magnesium, and alkalinity of bicarbonate, mg/L as CaCO3, of ions in mmol/L. */
export function hardnessOfIons(amounts: IonAmounts): {
  readonly hardness: MgPerL;
  readonly alkalinity: MgPerL;
} {
  return {
    hardness: ((amounts.Ca ?? 0) + (amounts.Mg ?? 0)) * calciumCarbonate,
    alkalinity: ((amounts.HCO3 ?? 0) * calciumCarbonate) / 2,
  };
}

/** What a water is to become, and by which salts. Hardness (GH) and alkalinity (KH) in mg/L as CaCO3. */
export interface Remineralisation {
  readonly hardness: MgPerL;
  readonly alkalinity: MgPerL;
  /** What is there already. */
  readonly hardnessBefore: MgPerL;
  readonly alkalinityBefore: MgPerL;
  /** Share of the hardness to be added that calcium brings; magnesium brings the rest. */
  readonly calciumShare: number;
  readonly calciumSalt: MineralSalt;
  readonly magnesiumSalt: MineralSalt;
  readonly bicarbonateSalt: MineralSalt;
}

/**
 * mg/L of each salt that brings water from the hardness and alkalinity that it has to those wanted, by stoichiometry.
 * Wanted 0–2,000 mg/L as CaCO3. Throws OutOfRange where less is wanted than is there (dilute it instead). Hardness comes
 * of calcium and magnesium salts, alkalinity of a bicarbonate: so none of it precipitates by itself, but calcium and
 * bicarbonate of more than some 200 mg/L each may, as the pH rises.
 */
export function saltsToAdd(wanted: Remineralisation): Readonly<Partial<Record<MineralSalt, MgPerL>>> {
  const { hardness, alkalinity, hardnessBefore, alkalinityBefore, calciumShare } = wanted;
  const hint = "The water holds more already: dilute it with softer water.";
  requireInRange("hardness wanted", hardness, hardnessBefore, 2000, "mg{CaCO3}/L", hint);
  requireInRange("alkalinity wanted", alkalinity, alkalinityBefore, 2000, "mg{CaCO3}/L", hint);
  requireInRange("share of calcium", calciumShare, 0, 1, "1");
  const hardnessMmol = (hardness - hardnessBefore) / calciumCarbonate;
  const alkalinityMmol = (2 * (alkalinity - alkalinityBefore)) / calciumCarbonate;
  return {
    [wanted.calciumSalt]: hardnessMmol * calciumShare * facts[wanted.calciumSalt].gPerMol,
    [wanted.magnesiumSalt]: hardnessMmol * (1 - calciumShare) * facts[wanted.magnesiumSalt].gPerMol,
    [wanted.bicarbonateSalt]: alkalinityMmol * facts[wanted.bicarbonateSalt].gPerMol,
  };
}
