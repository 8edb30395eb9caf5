import type { Celsius, UsPerCm } from "../quantities/index.ts";
import { sodiumChlorideRatio } from "./sodium-chloride.ts";

// Constants of ISO 7888:1985 / EN 27888:1993, annex: relative viscosity as a function of temperature.
const a = 0.962144;
const n = 0.965078;
const A = -0.198058;
const B = -1.992186;
const C = 231.17628;
const D = 86.39123;

/** Lowest and highest temperature for which ISO 7888 tabulates its factor, °C. */
export const naturalRangeC = { min: 0, max: 35.9 } as const;

function h(tC: Celsius): number {
  const relativeViscosity = A + Math.exp(B + C / (tC + D));
  return 1 - a + a * relativeViscosity ** n;
}

// Divided by h(25) itself instead of the standard's rounded 1/1.116: then the factor at 25 °C is exactly 1 and the
// printed table comes out to its last digit.
const h25 = h(25);

function factor25(tC: Celsius): number {
  if (tC < naturalRangeC.min)
    return (h(naturalRangeC.min) / h25) * (sodiumChlorideRatio(naturalRangeC.min) / sodiumChlorideRatio(tC));
  if (tC > naturalRangeC.max)
    return (h(naturalRangeC.max) / h25) * (sodiumChlorideRatio(naturalRangeC.max) / sodiumChlorideRatio(tC));
  return h(tC) / h25;
}

// Of the temperature that was asked for last: water changes it seldom from one reading to the next.
let lastC = 25;
let lastFactor = 1;

/**
 * ISO 7888 factor f25 that turns conductivity at `tC` into conductivity at 25 °C, for natural waters.
 * Outside 0–35.9 °C it goes on by the sodium chloride curve, joined at the end of the range.
 */
export function naturalFactor25(tC: Celsius): number {
  if (tC !== lastC) {
    lastFactor = factor25(tC);
    lastC = tC;
  }
  return lastFactor;
}

/** True when `tC` lies outside the range of ISO 7888. */
export function outsideNaturalRange(tC: Celsius): boolean {
  return tC < naturalRangeC.min || tC > naturalRangeC.max;
}

/** Natural water: conductivity at `tC` to reference conductivity at 25 °C (ISO 7888:1985). */
export function natural25(kappa: UsPerCm, tC: Celsius): UsPerCm {
  return kappa * naturalFactor25(tC);
}

/** Natural water: reference conductivity at 25 °C to conductivity at `tC`. */
export function naturalAt(kappa25: UsPerCm, tC: Celsius): UsPerCm {
  return kappa25 / naturalFactor25(tC);
}
