import type { MgPerL, UsPerCm } from "../quantities/index.ts";
import { kappa25OfSodiumChloride, sodiumChlorideOfKappa25 } from "./sodium-chloride.ts";

/** A scale on which solids are estimated: a factor (mg/L per uS/cm at 25 °C, usually 0.5–0.75: Hem, USGS WSP 2254), or as NaCl. */
export type SolidsBy =
  | { readonly kind: "factor"; readonly mgPerLPerUsPerCm: number }
  | { readonly kind: "nacl" };

/** Dissolved solids on a scale, from reference conductivity (uS/cm at 25 °C). An estimate, never a weighing. */
export function solidsOfKappa25(kappa25: UsPerCm, scale: SolidsBy): MgPerL {
  return scale.kind === "factor" ? kappa25 * scale.mgPerLPerUsPerCm : sodiumChlorideOfKappa25(kappa25);
}

/** Reference conductivity from solids that were stated on a scale. */
export function kappa25OfSolids(mgPerL: MgPerL, scale: SolidsBy): UsPerCm {
  return scale.kind === "factor" ? mgPerL / scale.mgPerLPerUsPerCm : kappa25OfSodiumChloride(mgPerL);
}
