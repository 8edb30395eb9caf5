import type { Celsius, PracticalSalinity } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { whereRisingTakes } from "./halving.ts";

// International equation of state of sea water 1980 (EOS-80) at the surface: UNESCO Technical Papers in Marine
// Science 44 (1983). Temperatures inside are IPTS-68.
const pureWater = [999.842594, 6.793952e-2, -9.09529e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9] as const;
const linear = [8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9] as const;
const power32 = [-5.72466e-3, 1.0227e-4, -1.6546e-6] as const;
const square = 4.8314e-4;
const t68PerT90 = 1.00024;

const polynomial = (coefficients: readonly number[], x: number) =>
  coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);

function requireSeaWater(salinity: number, tC: number): void {
  requireInRange("salinity", salinity, 0, 42, "1");
  requireInRange("temperature", tC, -2, 40, "Cel");
}

/**
 * Density of fresh to sea water at the surface, kg/m3: EOS-80 (UNESCO 44, 1983). Practical salinity 0–42, -2–40 °C
 * (ITS-90). Throws OutOfRange.
 */
export function seaDensityKgPerM3(salinity: PracticalSalinity, tC: Celsius): number {
  requireSeaWater(salinity, tC);
  const t68 = t68PerT90 * tC;
  return (
    polynomial(pureWater, t68) +
    polynomial(linear, t68) * salinity +
    polynomial(power32, t68) * salinity ** 1.5 +
    square * salinity * salinity
  );
}

/**
 * Specific gravity: density of the water at `sampleTC` over that of pure water at `referenceTC`. The same water reads
 * 1.0264 at 25/25 and 1.0234 at 25/4, so both temperatures are always stated. Throws OutOfRange.
 */
export function specificGravity(
  salinity: PracticalSalinity,
  sampleTC: Celsius,
  referenceTC: Celsius,
): number {
  return seaDensityKgPerM3(salinity, sampleTC) / seaDensityKgPerM3(0, referenceTC);
}

/** EOS-80 holds up to this practical salinity (UNESCO 44, 1983). */
const maxSalinity = 42;

/** Practical salinity 0–42 from specific gravity at stated temperatures: the inverse of `specificGravity`. Throws OutOfRange. */
export function salinityOfSpecificGravity(
  gravity: number,
  sampleTC: Celsius,
  referenceTC: Celsius,
): PracticalSalinity {
  const gravityOf = (salinity: PracticalSalinity) => specificGravity(salinity, sampleTC, referenceTC);
  requireInRange("specific gravity", gravity, gravityOf(0), gravityOf(maxSalinity), "1");
  return whereRisingTakes(gravityOf, gravity, 0, maxSalinity);
}
