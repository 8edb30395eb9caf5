import type { Celsius, UsPerCm } from "../quantities/index.ts";

/** Per °C at 25 °C: Standard Methods for the Examination of Water and Wastewater, 2510 B. */
export const standardAlphaPerC = 0.0191;

/** Conductivity at `tC` to 25 °C with one coefficient. NaN-free while 1 + alpha (t - 25) > 0; clamped there. */
export function linear25(kappa: UsPerCm, tC: Celsius, alphaPerC: number = standardAlphaPerC): UsPerCm {
  return kappa / Math.max(1e-3, 1 + alphaPerC * (tC - 25));
}

/** Reference conductivity to conductivity at `tC` with one coefficient. */
export function linearAt(kappa25: UsPerCm, tC: Celsius, alphaPerC: number = standardAlphaPerC): UsPerCm {
  return kappa25 * Math.max(1e-3, 1 + alphaPerC * (tC - 25));
}
