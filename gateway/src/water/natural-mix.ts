import type { MgPerL, UsPerCm } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { whereRisingTakes } from "./halving.ts";
import { sumOfIons } from "./ions/conductivity-of-ions.ts";

/** mg/L of the natural mix between which its conductivity is given. */
export const naturalMixRange = { min: 0, max: 14_000 } as const;

// mmol/L for one mg/L of the salt, from the standard atomic weights.
const sodiumSulfate = 1 / 142.0421;
const sodiumBicarbonate = 1 / 84.00661;
const sodiumChloride = 1 / 58.4428;

/**
 * Reference conductivity of the natural mix: 40 % sodium sulfate, 40 % sodium bicarbonate, 20 % sodium chloride by mass, as
 * the sum of its ions (McCleskey 2012). 0–14,000 mg/L (OutOfRange). Printed tables of this mix are met to 2 % under
 * 2,100 mg/L and to 4 % above.
 */
export function kappa25OfNaturalMix(mgPerL: MgPerL): UsPerCm {
  requireInRange("natural mix", mgPerL, 0, naturalMixRange.max, "mg/L");
  const sulfate = 0.4 * mgPerL * sodiumSulfate;
  const bicarbonate = 0.4 * mgPerL * sodiumBicarbonate;
  const chloride = 0.2 * mgPerL * sodiumChloride;
  const amounts = {
    Na: 2 * sulfate + bicarbonate + chloride,
    SO4: sulfate,
    HCO3: bicarbonate,
    Cl: chloride,
  };
  return sumOfIons(amounts, 25).kappa;
}

/** Dissolved solids as the natural mix: the inverse of `kappa25OfNaturalMix`. 0–14,800 uS/cm (OutOfRange). */
export function naturalMixOfKappa25(kappa25: UsPerCm): MgPerL {
  requireInRange("reference conductivity", kappa25, 0, 14_800, "uS/cm");
  return whereRisingTakes(kappa25OfNaturalMix, kappa25, 0, naturalMixRange.max);
}
