import type { Litre, MeqPerL, MgPerL } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";

/** What a bed holds when it is used whole, over the bed, and over its resin where that is known. */
export interface BedCapacity {
  readonly whole: number;
  readonly perLitre: number | null;
  readonly perKg: number | null;
}

/** The bed: litres and mass of its resin. */
export interface BedSize {
  readonly bedL?: Litre | undefined;
  readonly massKg?: number | undefined;
}

/**
 * Capacity from the volume of a bed used whole (0–1e12 L) and what a litre of feed brings: meq/L give eq, mg/L give g.
 * 0–1e6 of either; bed 0.00001–100,000 L, mass 0.00001–100,000 kg. Throws OutOfRange.
 */
export function bedCapacity(wholeL: Litre, perLitreOfFeed: MeqPerL | MgPerL, size: BedSize): BedCapacity {
  requireInRange("volume of a bed used whole", wholeL, 0, 1e12, "L");
  requireInRange("feed", perLitreOfFeed, 0, 1e6, "1");
  const whole = (wholeL * perLitreOfFeed) / 1000;
  const over = (name: string, amount: number | undefined, unit: string) => {
    if (amount === undefined) return null;
    requireInRange(name, amount, 1e-5, 100_000, unit);
    return whole / amount;
  };
  return {
    whole,
    perLitre: over("bed", size.bedL, "L"),
    perKg: over("mass of the resin", size.massKg, "kg"),
  };
}
