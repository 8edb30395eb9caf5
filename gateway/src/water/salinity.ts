import type { Celsius, PracticalSalinity, UsPerCm } from "../quantities/index.ts";

// Practical Salinity Scale 1978, UNESCO Technical Papers in Marine Science 44 (1983), at the surface (pressure 0).
const a = [0.008, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081] as const;
const b = [0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144] as const;
const c = [0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9] as const;
/** Conductivity of standard sea water (S = 35) at 15 °C, mS/cm. */
const standardMsPerCm = 42.914;

function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}

/**
 * Practical salinity from conductivity (uS/cm at the water's temperature) and temperature (ITS-90).
 * Valid for salinity 2–42 and -2–35 °C; null outside.
 */
export function practicalSalinity(kappa: UsPerCm, tC: Celsius): PracticalSalinity | null {
  if (!(tC >= -2 && tC <= 35) || !(kappa > 0)) return null;
  const t68 = 1.00024 * tC;
  const ratio = kappa / 1000 / standardMsPerCm / polynomial(c, t68);
  const root = Math.sqrt(ratio);
  const salinity = polynomial(a, root) + ((t68 - 15) / (1 + 0.0162 * (t68 - 15))) * polynomial(b, root);
  return salinity >= 2 && salinity <= 42 ? salinity : null;
}
