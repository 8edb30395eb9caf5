import type { Celsius, UsPerCm } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";

/** Molality of a primary conductivity standard, mol of potassium chloride per kg of water. */
export type StandardMolality = 0.01 | 0.1 | 1;

interface PrimaryStandard {
  readonly kappa25: UsPerCm;
  /** Ratio to 25 °C less 1, in (t - 25), its square and its cube. */
  readonly terms: readonly [number, number, number];
}

// Wu, Koch and Pratt, J. Res. NIST 96 (1991) 191; Pratt et al., Pure Appl. Chem. 73 (2001) 1783: values at 25 °C. The terms
// are fitted to their tables over 0–50 °C and meet them to 0.01 %; the stated uncertainty is 0.03 to 0.04 %.
const primary: Readonly<Record<StandardMolality, PrimaryStandard>> = {
  0.01: { kappa25: 1408.23, terms: [1.9439544e-2, 4.5382977e-5, -4.149152e-7] },
  0.1: { kappa25: 12_824.6, terms: [1.9061194e-2, 4.0455964e-5, -3.956564e-7] },
  1: { kappa25: 108_620, terms: [1.75608835e-2, 2.88748303e-5, -3.50830658e-7] },
};

/** Temperatures for which standards are given, °C. */
export const standardRangeC = { min: 0, max: 50 } as const;

function ratioOf({ terms: [first, second, third] }: PrimaryStandard, tC: number): number {
  const x = tC - 25;
  return 1 + x * (first + x * (second + x * third));
}

/**
 * Conductivity of a primary standard at a temperature, without the water it is made of (about 1 uS/cm where that stands in
 * air): NIST and IUPAC, see above. 0–50 °C (OutOfRange).
 */
export function primaryStandard(molality: StandardMolality, tC: Celsius): UsPerCm {
  requireInRange("temperature", tC, standardRangeC.min, standardRangeC.max, "Cel");
  return primary[molality].kappa25 * ratioOf(primary[molality], tC);
}

/**
 * A bottled potassium chloride standard at a temperature, from its value at 25 °C: moves as the primary standards do, between
 * two of them by the logarithm of conductivity. 10–120,000 uS/cm, 0–50 °C (OutOfRange).
 * Printed tables to 12,880 uS/cm are met to 0.3 %, at a few entries to 0.7 %.
 */
export function standardAt(kappa25: UsPerCm, tC: Celsius): UsPerCm {
  requireInRange("standard", kappa25, 10, 120_000, "uS/cm");
  requireInRange("temperature", tC, standardRangeC.min, standardRangeC.max, "Cel");
  const [below, above] =
    kappa25 < primary[0.1].kappa25 ? [primary[0.01], primary[0.1]] : [primary[0.1], primary[1]];
  const place = Math.log(kappa25 / below.kappa25) / Math.log(above.kappa25 / below.kappa25);
  const share = Math.min(1, Math.max(0, place));
  return kappa25 * ((1 - share) * ratioOf(below, tC) + share * ratioOf(above, tC));
}
