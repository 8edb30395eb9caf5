import type { Celsius } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";

/** Temperatures for which carbonate's constants are given, °C. */
export const carbonateRangeC = { min: 0, max: 50 } as const;

/** Constants of carbonate in dilute water, as -log10; molal. */
export interface CarbonateConstants {
  /** CO2 + H2O = H+ + HCO3-. */
  readonly pK1: number;
  /** HCO3- = H+ + CO3 2-. */
  readonly pK2: number;
  /** CO2 of the gas dissolving, mol/kg for 1 atm. */
  readonly pKHenry: number;
}

/** Plummer and Busenberg, Geochim. Cosmochim. Acta 46 (1982) 1011. 0–50 °C here (they: to 90 °C). Throws OutOfRange. */
export function carbonateConstants(tC: Celsius): CarbonateConstants {
  requireInRange("temperature", tC, carbonateRangeC.min, carbonateRangeC.max, "Cel");
  const t = tC + 273.15;
  const log = Math.log10(t);
  return {
    pK1: 356.3094 + 0.06091964 * t - 21834.37 / t - 126.8339 * log + 1684915 / t ** 2,
    pK2: 107.8871 + 0.03252849 * t - 5151.79 / t - 38.92561 * log + 563713.9 / t ** 2,
    pKHenry: -108.3865 - 0.01985076 * t + 6919.53 / t + 40.45154 * log - 669365 / t ** 2,
  };
}

/**
 * Activity coefficient of an ion with one charge (Davies); with two it is this to the fourth. `ionicStrength` in mol/L, to
 * 0.5; the coefficient A as in Standard Methods 2330 B, from memory.
 */
export function singleActivity(ionicStrength: number, tC: Celsius): number {
  const t = tC + 273.15;
  const permittivity = 60_954 / (t + 116) - 68.937;
  const a = 1.82e6 * (permittivity * t) ** -1.5;
  const root = Math.sqrt(ionicStrength);
  return 10 ** (-a * (root / (1 + root) - 0.3 * ionicStrength));
}
