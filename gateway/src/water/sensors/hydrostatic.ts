import { requireInRange } from "../../quantities/index.ts";

/** Standard acceleration of gravity, m/s2: exact by the 3rd CGPM (1901). */
export const standardGravityMPerS2 = 9.80665;

/**
 * Depth of water above a pressure sensor, m, from gauge pressure (Pa, above the air) and the water's density
 * (kg/m3; `seaDensityKgPerM3`): h = p / (rho g). Salt water of S 35 stands 2.6 % lower than fresh water at the same
 * pressure. -1,000–220,000 Pa (a little below nothing is the sensor's own offset), 950–1,100 kg/m3. Throws OutOfRange.
 */
export function depthOfPressureM(gaugePressurePa: number, densityKgPerM3: number): number {
  requireInRange("gauge pressure", gaugePressurePa, -1000, 220_000, "Pa");
  requireInRange("density", densityKgPerM3, 950, 1100, "kg/m3");
  return gaugePressurePa / (densityKgPerM3 * standardGravityMPerS2);
}

/** Gauge pressure, Pa, under so many metres (0–20) of water: the inverse of `depthOfPressureM`. Throws OutOfRange. */
export function pressureOfDepthPa(depthM: number, densityKgPerM3: number): number {
  requireInRange("depth", depthM, 0, 20, "m");
  requireInRange("density", densityKgPerM3, 950, 1100, "kg/m3");
  return depthM * densityKgPerM3 * standardGravityMPerS2;
}
