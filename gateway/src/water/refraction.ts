import type { Celsius, PracticalSalinity } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";

/** Yellow light of sodium, nm, in which refractometers are read. */
const sodiumLightNm = 589.3;
const greatestSalinity = 42;

/** n = index of pure water + slope times salinity, both at a temperature and a wavelength: Quan and Fry (1995). */
function seaLine(tC: number, nm: number): { readonly pure: number; readonly perSalinity: number } {
  return {
    pure: 1.31405 - 2.02e-6 * tC * tC + (15.868 - 0.00423 * tC) / nm - 4382 / nm ** 2 + 1.1455e6 / nm ** 3,
    perSalinity: 1.779e-4 - 1.05e-6 * tC + 1.6e-8 * tC * tC + 0.01155 / nm,
  };
}

/**
 * Refractive index of fresh to sea water against air: Quan and Fry, Appl. Opt. 34 (1995) 3477, fitted to the table of
 * Austin and Halikas (1976) at salinity 0–35, 0–30 °C, 400–700 nm to 0.00002, which is 0.1 of salinity. Linear in salinity
 * and carried on to 42. Throws OutOfRange.
 */
export function seaRefractiveIndex(salinity: PracticalSalinity, tC: Celsius, nm = sodiumLightNm): number {
  requireInRange("salinity", salinity, 0, greatestSalinity, "1");
  requireInRange("temperature", tC, 0, 30, "Cel");
  requireInRange("wavelength", nm, 400, 700, "nm");
  const { pure, perSalinity } = seaLine(tC, nm);
  return pure + perSalinity * salinity;
}

/** What an index may lie under pure water's and still be taken for it: a step of an Abbe refractometer. */
const readingStep = 0.0001;

/**
 * Practical salinity (0–42) from a refractive index in sodium light at 0–30 °C: the inverse of `seaRefractiveIndex`. Throws
 * OutOfRange, also for an index more than 0.0001 under that of pure water; what lies less under it is 0.
 */
export function salinityOfRefractiveIndex(index: number, tC: Celsius): PracticalSalinity {
  requireInRange("temperature", tC, 0, 30, "Cel");
  const { pure, perSalinity } = seaLine(tC, sodiumLightNm);
  const hint = "Is it the index, and at that temperature?";
  requireInRange(
    "refractive index",
    index,
    pure - readingStep,
    pure + greatestSalinity * perSalinity,
    "1",
    hint,
  );
  return Math.min(greatestSalinity, Math.max(0, (index - pure) / perSalinity));
}

/** nD at 20 °C of sucrose of 0–10 % by mass: ICUMSA SPS-3 (2000). That of 10 % as read in OIV-MA-AS2-02, the rest from memory. */
const brixIndices = [
  1.33299, 1.33442, 1.33586, 1.33732, 1.33879, 1.34026, 1.34175, 1.34325, 1.34477, 1.34629, 1.34782,
] as const;

/** Refractive index at 20 °C in sodium light of degrees Brix (0–10), by the ICUMSA table. Throws OutOfRange. */
export function refractiveIndexOfBrix(brix: number): number {
  requireInRange("Brix", brix, 0, brixIndices.length - 1, "1");
  const place = Math.min(Math.floor(brix), brixIndices.length - 2);
  const [below, above] = [brixIndices[place] as number, brixIndices[place + 1] as number];
  return below + (brix - place) * (above - below);
}

/** Practical salinity that a scale of sugar stands for: compensated to 20 °C, by way of the index. Throws OutOfRange. */
export function salinityOfBrix(brix: number): PracticalSalinity {
  return salinityOfRefractiveIndex(refractiveIndexOfBrix(brix), 20);
}

/**
 * Sodium chloride, parts per thousand by mass, with the index of sea water of salinity 35: 3.65 % at 20 °C (CRC Handbook,
 * 57th ed., D-252, as a recipe for a refractometer standard takes it).
 */
const brineOfSalinity35 = 36.5;

/**
 * Practical salinity where a refractometer's scale is of sodium chloride, parts per thousand by mass (0–43.8), as cheap ones
 * are: they show sea water of 35 as 36.5. Throws OutOfRange.
 */
export function salinityOfBrineScale(partsPerThousand: number): PracticalSalinity {
  const widest = (greatestSalinity / 35) * brineOfSalinity35;
  requireInRange("reading", partsPerThousand, 0, widest, "1");
  return (partsPerThousand * 35) / brineOfSalinity35;
}
