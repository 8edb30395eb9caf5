import type { Drum, Signal } from "../line/index.ts";
import { standardGravityMPerS2, waterDensityGPerCm3 } from "../water/index.ts";

/** Of a level by pressure: the density of water at 20 °C, whose error over 5–30 °C is 0.4 % (Kell 1975). */
const densityKgPerM3 = 1000 * waterDensityGPerCm3(20);

/** A reading's value in the signal's own unit (uS/cm, mg/L, Cel, bar, m, L, L/min, 0/1); null when the unit doesn't fit. */
export function inOwnUnit(signal: Signal, value: number, unit: string | null): number | null {
  switch (signal) {
    case "conductivity":
      return unit === "S/m" ? value * 10_000 : unit === null ? value : null;
    case "solids":
      return unit === "kg/m3" ? value * 1000 : unit === null ? value : null;
    case "temperature":
      return unit === "Cel" || unit === null ? value : unit === "K" ? value - 273.15 : null;
    case "pressure":
      return unit === "Pa" ? value / 100_000 : unit === null ? value : null;
    case "level":
    case "distance":
      return unit === "m" || unit === null ? value : null;
    case "volume":
      return unit === "m3" ? value * 1000 : unit === null ? value : null;
    case "flow":
      return unit === "m3/s" ? value * 60_000 : unit === null ? value : null;
    case "contact":
      return value === 0 || value === 1 ? value : null;
  }
}

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
