import type { Celsius, Litre, PracticalSalinity } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { seaDensityKgPerM3 } from "./sea-density.ts";

/** g of sea salt in a kg of sea water per unit of practical salinity: 35.16504 / 35 (Millero et al., Deep-Sea Res. I 55 (2008) 50). */
const gramsPerKgPerSalinity = 35.16504 / 35;

/** Water of one salinity in a drum. */
export interface SaltWater {
  readonly volumeL: Litre;
  readonly salinity: PracticalSalinity;
}

/** What a new batch takes. */
export interface SaltBatch {
  readonly saltKg: number;
  /** Fresh water, at the batch's temperature. */
  readonly waterL: Litre;
}

/** What brings a drum to its target: salt, or fresh water (added, or put in the place of drum water), or nothing. */
export type SaltCorrection =
  | { readonly add: "nothing" }
  | { readonly add: "salt"; readonly saltKg: number }
  | {
      readonly add: "water";
      readonly waterL: Litre;
      /** The drum's content afterwards. */
      readonly volumeAfterL: Litre;
      /** Where there is no room: litres to take out, and the fresh litres to put back for the same mass taken. */
      readonly exchangeL: Litre;
    };

const saltShare = (salinity: number) => (salinity * gramsPerKgPerSalinity) / 1000;
const kgOf = ({ volumeL, salinity }: SaltWater, tC: Celsius) =>
  (volumeL * seaDensityKgPerM3(salinity, tC)) / 1000;

function requireVolume(volumeL: number): void {
  requireInRange("volume", volumeL, 0.001, 1_000_000, "L");
}

function requireYield(saltYield: number): void {
  requireInRange(
    "dry sea salt in the product",
    saltYield,
    0.5,
    1,
    "kg/kg",
    "Sea salt as sold holds some water; 1 is dry.",
  );
}

/**
 * Dry salt and fresh water for `volumeL` (0.001–1,000,000) of a salinity (0–42) at a temperature, by mass and EOS-80
 * density. `saltYield`, kg of dry sea salt in a kg of the product (0.5–1): the rest is counted as water. Throws
 * OutOfRange.
 */
export function saltBatch({ volumeL, salinity }: SaltWater, tC: Celsius, saltYield = 1): SaltBatch {
  requireVolume(volumeL);
  requireYield(saltYield);
  const massKg = kgOf({ volumeL, salinity }, tC);
  const saltKg = (massKg * saltShare(salinity)) / saltYield;
  return { saltKg, waterL: ((massKg - saltKg) * 1000) / seaDensityKgPerM3(0, tC) };
}

/**
 * What brings a drum of water to the target salinity (0.1–42): salt for water that is too fresh, fresh water for water
 * that is too salt. By mass: adding salt changes the volume little, and the water that the product holds is counted.
 * Throws OutOfRange.
 */
export function saltCorrection(
  drum: SaltWater,
  target: PracticalSalinity,
  tC: Celsius,
  saltYield = 1,
): SaltCorrection {
  requireVolume(drum.volumeL);
  requireYield(saltYield);
  requireInRange("target salinity", target, 0.1, 42, "1");
  const massKg = kgOf(drum, tC);
  const [is, wanted] = [saltShare(drum.salinity), saltShare(target)];
  if (is === wanted) return { add: "nothing" };
  if (is < wanted) return { add: "salt", saltKg: (massKg * (wanted - is)) / (saltYield - wanted) };
  const freshKgPerL = seaDensityKgPerM3(0, tC) / 1000;
  const drumKgPerL = massKg / drum.volumeL;
  const waterKg = massKg * (is / wanted - 1);
  return {
    add: "water",
    waterL: waterKg / freshKgPerL,
    volumeAfterL: ((massKg + waterKg) * 1000) / seaDensityKgPerM3(target, tC),
    exchangeL: (massKg * (is - wanted)) / (wanted * freshKgPerL + drumKgPerL * (is - wanted)),
  };
}

/**
 * Several waters of one temperature poured together: salinity by mass, volume by EOS-80 density. One to 1000 parts.
 * Throws OutOfRange.
 */
export function blendOf(parts: readonly SaltWater[], tC: Celsius): SaltWater {
  requireInRange("number of waters to blend", parts.length, 1, 1000, "1");
  let massKg = 0;
  let saltKg = 0;
  for (const part of parts) {
    requireVolume(part.volumeL);
    const kg = kgOf(part, tC);
    massKg += kg;
    saltKg += kg * saltShare(part.salinity);
  }
  const salinity = saltKg / massKg / saltShare(1);
  return { salinity, volumeL: (massKg * 1000) / seaDensityKgPerM3(Math.min(42, salinity), tC) };
}

/**
 * Litres of a salter and of a fresher water (first and second) that together give `wanted`. The target must lie from
 * one salinity to the other. Throws OutOfRange.
 */
export function blendFor(
  wanted: SaltWater,
  salinities: readonly [PracticalSalinity, PracticalSalinity],
  tC: Celsius,
): { readonly firstL: Litre; readonly secondL: Litre } {
  requireVolume(wanted.volumeL);
  const [first, second] = salinities;
  const [low, high] = [Math.min(first, second), Math.max(first, second)];
  requireInRange("wanted salinity", wanted.salinity, low, high, "1");
  requireInRange("difference of the two salinities", high - low, 0.01, 42, "1");
  const massKg = kgOf(wanted, tC);
  const share = (wanted.salinity - second) / (first - second);
  return {
    firstL: (massKg * share * 1000) / seaDensityKgPerM3(first, tC),
    secondL: (massKg * (1 - share) * 1000) / seaDensityKgPerM3(second, tC),
  };
}
