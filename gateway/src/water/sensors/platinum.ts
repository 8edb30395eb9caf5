import type { Celsius } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";

// IEC 60751:2022, industrial platinum resistance thermometers (ITS-90).
const a = 3.9083e-3;
const b = -5.775e-7;
const c = -4.183e-12;

/** Where IEC 60751 gives a curve. */
export const platinumRangeC = { min: -200, max: 850 } as const;

/** Tolerance classes of IEC 60751: so much at 0 °C, and so much more per degree away from it. */
export type PlatinumClass = "AA" | "A" | "B" | "C";

const tolerances: Readonly<Record<PlatinumClass, readonly [number, number]>> = {
  AA: [0.1, 0.0017],
  A: [0.15, 0.002],
  B: [0.3, 0.005],
  C: [0.6, 0.01],
};

function ratio(tC: number): number {
  return 1 + a * tC + b * tC * tC + (tC < 0 ? c * (tC - 100) * tC ** 3 : 0);
}

function slope(tC: number): number {
  return a + 2 * b * tC + (tC < 0 ? c * (4 * tC - 300) * tC * tC : 0);
}

function requireNominal(r0Ohm: number): void {
  requireInRange("resistance at 0 °C", r0Ohm, 1, 100_000, "Ohm");
}

/** Resistance, ohm, of a platinum sensor at -200 to 850 °C; `r0Ohm` is 100 for Pt100, 1000 for Pt1000. Throws OutOfRange. */
export function platinumResistance(tC: Celsius, r0Ohm: number): number {
  requireNominal(r0Ohm);
  requireInRange("temperature", tC, platinumRangeC.min, platinumRangeC.max, "Cel");
  return r0Ohm * ratio(tC);
}

/** Temperature of a platinum sensor: the inverse of `platinumResistance` to 1e-9 °C. Throws OutOfRange. */
export function platinumTemperature(ohm: number, r0Ohm: number): Celsius {
  requireNominal(r0Ohm);
  const [low, high] = [r0Ohm * ratio(platinumRangeC.min), r0Ohm * ratio(platinumRangeC.max)];
  requireInRange(
    "resistance",
    ohm,
    low,
    high,
    "Ohm",
    "Outside, the sensor or its leads are broken or shorted.",
  );
  const share = ohm / r0Ohm;
  let tC = (-a + Math.sqrt(a * a - 4 * b * (1 - share))) / (2 * b);
  // Below 0 °C the cubic term has no closed inverse; Newton from the square's root is exact after a few steps.
  if (share < 1) for (let step = 0; step < 8; step += 1) tC -= (ratio(tC) - share) / slope(tC);
  return Math.min(platinumRangeC.max, Math.max(platinumRangeC.min, tC));
}

/** Greatest error, ± °C, that IEC 60751 allows a sensor of a class at -200 to 850 °C. Throws OutOfRange. */
export function platinumToleranceC(tC: Celsius, sensorClass: PlatinumClass): number {
  requireInRange("temperature", tC, platinumRangeC.min, platinumRangeC.max, "Cel");
  const [atZero, perDegree] = tolerances[sensorClass];
  return atZero + perDegree * Math.abs(tC);
}
