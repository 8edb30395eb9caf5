import { type Celsius, OutOfRange, requireInRange } from "../../quantities/index.ts";

/** The ions that make up nearly all of natural water. */
export const ions = [
  "H",
  "Na",
  "K",
  "NH4",
  "Ca",
  "Mg",
  "Cl",
  "SO4",
  "HCO3",
  "CO3",
  "NO3",
  "F",
  "OH",
] as const;
/** One of them. */
export type Ion = (typeof ions)[number];

interface IonFacts {
  readonly charge: number;
  /** From the standard atomic weights (IUPAC, abridged). */
  readonly gPerMol: number;
  /** S cm2 per equivalent at infinite dilution, 25 °C: Standard Methods 2510 A, table I, from memory. */
  readonly standardPerEquivalent: number;
}

const facts: Readonly<Record<Ion, IonFacts>> = {
  H: { charge: 1, gPerMol: 1.00794, standardPerEquivalent: 350 },
  Na: { charge: 1, gPerMol: 22.98977, standardPerEquivalent: 50.1 },
  K: { charge: 1, gPerMol: 39.0983, standardPerEquivalent: 73.5 },
  NH4: { charge: 1, gPerMol: 18.03846, standardPerEquivalent: 73.5 },
  Ca: { charge: 2, gPerMol: 40.078, standardPerEquivalent: 59.5 },
  Mg: { charge: 2, gPerMol: 24.305, standardPerEquivalent: 53.1 },
  Cl: { charge: -1, gPerMol: 35.453, standardPerEquivalent: 76.4 },
  SO4: { charge: -2, gPerMol: 96.0626, standardPerEquivalent: 80 },
  HCO3: { charge: -1, gPerMol: 61.01684, standardPerEquivalent: 44.5 },
  CO3: { charge: -2, gPerMol: 60.0089, standardPerEquivalent: 72 },
  NO3: { charge: -1, gPerMol: 62.0049, standardPerEquivalent: 71.4 },
  F: { charge: -1, gPerMol: 18.9984, standardPerEquivalent: 54.4 },
  OH: { charge: -1, gPerMol: 17.00734, standardPerEquivalent: 198.6 },
};

/** Charge, molar mass and conductivity at infinite dilution of an ion. */
export function ionFacts(ion: Ion): IonFacts {
  return facts[ion];
}

/** Coefficients of lambda = (l2 t² + l1 t + l0) - (a2 t² + a1 t + a0) sqrt(I) / (1 + b sqrt(I)). */
interface IonConductivity {
  readonly limiting: readonly [l2: number, l1: number, l0: number];
  readonly slope: readonly [a2: number, a1: number, a0: number];
  readonly b: number;
}

const row = (l2: number, l1: number, l0: number, a2: number, a1: number, a0: number, b: number) => ({
  limiting: [l2, l1, l0] as const,
  slope: [a2, a1, a0] as const,
  b,
});

// McCleskey et al., Geochim. Cosmochim. Acta 77 (2012) 369, table 1. Fluoride is not in our copy of it.
const conductivities: Readonly<Partial<Record<Ion, IonConductivity>>> = {
  H: row(-0.01414, 5.355, 224.2, -0.00918, 1.842, 39.23, 0.3),
  Na: row(0.003763, 0.877, 26.23, 0.00027, 1.141, 32.07, 1.7),
  K: row(0.003046, 1.261, 40.7, 0.00535, 0.9316, 22.59, 1.5),
  NH4: row(0.003341, 1.285, 39.04, 0.00132, 0.607, 11.19, 0.3),
  Ca: row(0.009645, 1.984, 62.28, 0.03174, 2.334, 132.3, 2.8),
  Mg: row(0.01068, 1.695, 57.16, 0.02453, 1.915, 80.5, 2.1),
  Cl: row(0.003817, 1.337, 40.99, 0.00613, 0.9469, 22.01, 1.5),
  SO4: row(0.01037, 2.838, 82.37, 0.03324, 5.889, 193.5, 2.6),
  HCO3: row(0.000614, 0.9048, 21.14, -0.00503, 0.8957, 10.97, 0.1),
  CO3: row(-0.000326, 2.998, 64.03, -0.00181, 5.542, 120.2, 2.3),
  NO3: row(0.001925, 1.214, 39.9, -0.00118, 0.5045, 23.31, 0.1),
  OH: row(0.003396, 2.925, 121.3, 0.00933, 0.1086, 35.9, 0.01),
};

const quadratic = ([two, one, zero]: readonly [number, number, number], tC: number) =>
  (two * tC + one) * tC + zero;

/**
 * Conductivity of an ion per mole, S cm2/mol: McCleskey et al., Geochim. Cosmochim. Acta 77 (2012) 369. 0–95 °C, ionic
 * strength 0–0.7 mol/kg (OutOfRange). Fluoride: its value at infinite dilution, moving with temperature as chloride does.
 */
export function ionConductivity(ion: Ion, tC: Celsius, ionicStrength: number): number {
  requireInRange("temperature", tC, 0, 95, "Cel");
  requireInRange("ionic strength", ionicStrength, 0, 0.7, "mol/kg");
  const known = conductivities[ion];
  if (!known) {
    const share = facts[ion].standardPerEquivalent / facts.Cl.standardPerEquivalent;
    return share * ionConductivity("Cl", tC, ionicStrength);
  }
  const root = Math.sqrt(ionicStrength);
  return quadratic(known.limiting, tC) - (quadratic(known.slope, tC) * root) / (1 + known.b * root);
}

/** Amounts of ions, mmol/L. */
export type IonAmounts = Readonly<Partial<Record<Ion, number>>>;

/** mg/L of ions as mmol/L. Throws OutOfRange for a negative or infinite one. */
export function ionAmounts(mgPerL: Readonly<Partial<Record<Ion, number>>>): IonAmounts {
  const amounts: Partial<Record<Ion, number>> = {};
  for (const ion of ions) {
    const mass = mgPerL[ion];
    if (mass === undefined) continue;
    if (!(mass >= 0 && mass <= 1e6)) throw new OutOfRange(ion, mass, 0, 1e6, "mg/L");
    amounts[ion] = mass / facts[ion].gPerMol;
  }
  return amounts;
}

/** Ionic strength, mol/L: half the sum of amount times charge squared. */
export function ionicStrengthOf(amounts: IonAmounts): number {
  return ions.reduce((sum, ion) => sum + ((amounts[ion] ?? 0) * facts[ion].charge ** 2) / 2000, 0);
}

/** H+ and OH- at a pH, mmol/L; plain, at 25 °C (pKw 13.995: CRC Handbook). */
export function ionsOfPh(pH: number): IonAmounts {
  return { H: 1000 * 10 ** -pH, OH: 1000 * 10 ** (pH - 13.995) };
}
