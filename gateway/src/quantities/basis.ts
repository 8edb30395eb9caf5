import { UnitError } from "./unit-error.ts";

// g per mole of what is shared (nitrogen atoms, charges, chlorine's oxidizing power), from the standard atomic weights
// H 1.00794, C 12.0107, N 14.0067, O 15.9994, Mg 24.305, Cl 35.453, Ca 40.078 (IUPAC, abridged).
const families = {
  nitrogen: { N: 14.0067, NH3: 17.03052, NH4: 18.03846, NO2: 46.0055, NO3: 62.0049 },
  equivalents: { CaCO3: 50.04345, CaO: 28.0387, HCO3: 61.01684, CO3: 30.00445, Ca: 20.039, Mg: 12.1525 },
  chlorine: { Cl2: 70.906, NH2Cl: 51.47548 },
} as const;

type Families = typeof families;
/** What a concentration is stated as: "as N", "as NO3", "as CaCO3", "as Cl2" … */
export type Basis = { [Family in keyof Families]: keyof Families[Family] }[keyof Families];

/** Every basis known here. */
export const bases = Object.values(families).flatMap((members) => Object.keys(members)) as readonly Basis[];

const familyOf = (basis: string) =>
  (Object.keys(families) as (keyof Families)[]).find((family) => basis in families[family]);

/**
 * A concentration stated on one basis, stated on another: 1 mg/L as N is 4.427 mg/L as NO3. Any unit of mass per volume.
 * Throws UnitError `unknown-basis`, or `basis-mismatch` where the two share nothing (N and CaCO3).
 */
export function convertBasis(concentration: number, from: Basis, to: Basis): number {
  const family = familyOf(from);
  const other = familyOf(to);
  if (!family || !other) {
    throw new UnitError(
      "unknown-basis",
      `"${family ? to : from}" is no basis known here; known are ${bases.join(", ")}.`,
    );
  }
  if (family !== other) {
    throw new UnitError(
      "basis-mismatch",
      `"as ${from}" and "as ${to}" share nothing: one can't become the other.`,
    );
  }
  const grams: Readonly<Record<string, number>> = families[family];
  return (concentration * (grams[to] as number)) / (grams[from] as number);
}

/** Grams per mole of nitrogen atoms, per equivalent, or per mole of oxidizing chlorine, of a basis. */
export function gramsOfBasis(basis: Basis): number {
  const family = familyOf(basis);
  const grams: Readonly<Record<string, number>> = family ? families[family] : {};
  return grams[basis] as number;
}
