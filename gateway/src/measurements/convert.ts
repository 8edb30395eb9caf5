import type { Drum } from "../line/index.ts";
import { standardGravityMPerS2, waterDensityGPerCm3 } from "../water/index.ts";

/** Of a level by pressure: the density of water at 20 °C, whose error over 5–30 °C is 0.4 % (Kell 1975). */
const densityKgPerM3 = 1000 * waterDensityGPerCm3(20);

/** Litres at a height or distance by a strapping table; goes on in a straight line beyond its ends, never below 0. */
function litresAt(strapping: readonly (readonly [number, number])[], metres: number): number | null {
  if (strapping.length < 2) return null;
  let upper = strapping.findIndex(([height]) => height >= metres);
  if (upper === -1) upper = strapping.length - 1;
  if (upper === 0) upper = 1;
  const [lowM, lowL] = strapping[upper - 1] as readonly [number, number];
  const [highM, highL] = strapping[upper] as readonly [number, number];
  return Math.max(0, lowL + ((metres - lowM) / (highM - lowM)) * (highL - lowL));
}

/** Litres in a drum from its level channel's value in its own unit; null without a table. */
export function drumLitres(level: NonNullable<Drum["level"]>, value: number): number | null {
  switch (level.as) {
    case "volume":
      return value;
    case "pressure":
      return litresAt(level.strapping, (value * 100_000) / (densityKgPerM3 * standardGravityMPerS2));
    case "depth":
    case "distance":
      return litresAt(level.strapping, value);
  }
}
