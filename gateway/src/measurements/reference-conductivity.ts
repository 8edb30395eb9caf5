import type { ChannelUse, SolidsScale } from "../line/index.ts";
import {
  atPureWaterLimit,
  kappa25OfSolids,
  linear25,
  natural25,
  outsideNaturalRange,
  pure25,
  pureRangeC,
} from "../water/index.ts";
import { giveReason, type Judged, worsen } from "./judged.ts";

/** mg/L of sodium chloride beyond which its table of conductivity ends. */
const maxSodiumChlorideMgPerL = 50_000;

/** Conductivity at `tC` (uS/cm) to 25 °C the way the line says; a temperature outside that way's range makes it suspect. */
export function compensated25(
  { compensation, alphaPerC }: ChannelUse,
  kappa: number,
  tC: number,
  judged: Judged,
): number {
  switch (compensation) {
    case "none":
      return kappa;
    case "linear":
      return linear25(kappa, tC, alphaPerC);
    case "natural":
      if (outsideNaturalRange(tC)) worsen(judged, 3, "outside-compensation-range");
      return natural25(kappa, tC);
    case "pure":
      if (tC < pureRangeC.min || tC > pureRangeC.max) worsen(judged, 3, "outside-compensation-range");
      if (atPureWaterLimit(kappa, tC)) giveReason(judged, "at-pure-water-limit");
      return pure25(kappa, tC);
  }
}

/** Reference conductivity (uS/cm) of solids (mg/L) on a scale; null outside the scale's range (NaCl: 0–50,000 mg/L). */
export function kappa25OfScale(mgPerL: number, scale: SolidsScale): number | null {
  if (scale.kind === "nacl" && !(mgPerL >= 0 && mgPerL <= maxSodiumChlorideMgPerL)) return null;
  return kappa25OfSolids(mgPerL, scale);
}
