import type { Drum } from "../line/index.ts";
import { seaDensityKgPerM3, standardGravityMPerS2, waterDensityGPerCm3 } from "../water/index.ts";

/** Of a level by pressure: the density of water at 20 °C, whose error over 5–30 °C is 0.4 % (Kell 1975). */
const freshKgPerM3 = 1000 * waterDensityGPerCm3(20);
/** EOS-80 holds up to this practical salinity. */
const greatestSalinity = 42;

/** Density of what stands in a drum, kg/m3 at 20 °C: EOS-80 where it is salt. */
const densityOf = (salinity: number): number =>
  salinity > 0 ? seaDensityKgPerM3(Math.min(salinity, greatestSalinity), 20) : freshKgPerM3;

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

/**
 * Litres in a drum from its level channel's value in its own unit; null without a table. `salinity`: practical salinity of
 * what is in it, 0 for fresh water; it weighs on a pressure alone.
 */
export function drumLitres(level: NonNullable<Drum["level"]>, value: number, salinity = 0): number | null {
  switch (level.as) {
    case "volume":
      return value;
    case "pressure":
      return litresAt(level.strapping, (value * 100_000) / (densityOf(salinity) * standardGravityMPerS2));
    case "depth":
    case "distance":
      return litresAt(level.strapping, value);
  }
}
