import type { Litre } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";

/** A volume of dilute water and what one conserved quantity of it is: mg/L, meq/L; uS/cm as an approximation. */
export interface Part {
  readonly volumeL: Litre;
  readonly concentration: number;
}

/**
 * Dilute waters poured together: volumes add, what is dissolved is kept. For hardness, ions, nitrogen; conductivity at
 * 25 °C only nearly (ions in stronger water carry less). 1 to 1000 parts. Throws OutOfRange.
 */
export function mixtureOf(parts: readonly Part[]): Part {
  requireInRange("number of waters to mix", parts.length, 1, 1000, "1");
  let volumeL = 0;
  let amount = 0;
  for (const part of parts) {
    requireInRange("volume", part.volumeL, 0.001, 1_000_000, "L");
    requireInRange("concentration", part.concentration, 0, 1_000_000, "1");
    volumeL += part.volumeL;
    amount += part.volumeL * part.concentration;
  }
  return { volumeL, concentration: amount / volumeL };
}

/**
 * Litres of water of `diluent` concentration that bring a drum from its concentration down (or up) to `target`: C1 V1 +
 * Cd Vd = Ct (V1 + Vd). Throws OutOfRange where the target is not between the two.
 */
export function litresToReach(drum: Part, target: number, diluent: number): Litre {
  requireInRange("volume", drum.volumeL, 0.001, 1_000_000, "L");
  const [low, high] = [Math.min(drum.concentration, diluent), Math.max(drum.concentration, diluent)];
  const hint =
    "The target must lie between the drum's and the added water's, and can't be the added water's.";
  requireInRange("target concentration", target, low, high, "1", hint);
  if (target === drum.concentration) return 0;
  const volumeL = (drum.volumeL * (drum.concentration - target)) / (target - diluent);
  requireInRange("water to add", volumeL, 0, 1_000_000, "L", hint);
  return volumeL;
}
