import type { Celsius, UsPerCm } from "../quantities/index.ts";
import { OutOfRange, requireInRange } from "../quantities/index.ts";
import { linear25 } from "./linear-compensation.ts";
import { natural25, naturalRangeC } from "./natural-compensation.ts";
import { pure25, pureRangeC } from "./pure-compensation.ts";

/** A way to turn conductivity into reference conductivity. */
export type CompensationWay =
  | { readonly kind: "linear"; readonly alphaPerC: number }
  | { readonly kind: "natural" }
  | { readonly kind: "pure" };

/** Reference conductivity, and between what it lies when the temperature may be wrong. */
export interface UncertainKappa25 {
  readonly kappa25: UsPerCm;
  readonly low: UsPerCm;
  readonly high: UsPerCm;
}

const ranges = { linear: { min: -2, max: 50 }, natural: naturalRangeC, pure: pureRangeC } as const;

/**
 * Reference conductivity with what an error of the thermometer does to it: the way's own slope at that temperature. All
 * three fall with temperature, so the ends lie at its ends. Throws OutOfRange where one of these lies outside the way's range.
 */
export function uncertainKappa25(
  kappa: UsPerCm,
  tC: Celsius,
  errorC: number,
  way: CompensationWay,
): UncertainKappa25 {
  const { min, max } = ranges[way.kind];
  requireInRange("temperature error", errorC, 0, 10, "Cel");
  if (!(tC - errorC >= min && tC + errorC <= max))
    throw new OutOfRange(
      "temperature",
      tC,
      min + errorC,
      max - errorC,
      "Cel",
      "Its error takes some of the range.",
    );
  const at = (temperature: number) => {
    if (way.kind === "linear") return linear25(kappa, temperature, way.alphaPerC);
    return way.kind === "natural" ? natural25(kappa, temperature) : pure25(kappa, temperature);
  };
  return { kappa25: at(tC), low: at(tC + errorC), high: at(tC - errorC) };
}
