import type { MgPerL, UsPerCm } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { whereRisingTakes } from "./halving.ts";

/** g/mol, from the standard atomic weights of K 39.0983 and Cl 35.453. */
const molarMassGPerMol = 74.5513;

/** mg/L of potassium chloride between which its conductivity is given. */
export const potassiumChlorideRange = { min: 0, max: 50_000 } as const;

// McCleskey, J. Chem. Eng. Data 56 (2011) 317, at 25 °C: c - d sqrt(m) / (1 + B sqrt(m)).
const limiting25 = (0.009385 * 25 + 2.533) * 25 + 81.17;
const slope25 = (0.0139 * 25 + 1.886) * 25 + 44.11;

/** Reference conductivity of potassium chloride in water (McCleskey 2011), 0–50,000 mg/L (OutOfRange). */
export function kappa25OfPotassiumChloride(mgPerL: MgPerL): UsPerCm {
  requireInRange("potassium chloride", mgPerL, 0, potassiumChlorideRange.max, "mg/L");
  const mMolPerL = mgPerL / molarMassGPerMol;
  const root = Math.sqrt(mMolPerL / 1000);
  return mMolPerL * (limiting25 - (slope25 * root) / (1 + 1.7 * root));
}

/** Dissolved solids as KCl: the inverse of `kappa25OfPotassiumChloride`. 0–70,000 uS/cm (OutOfRange). */
export function potassiumChlorideOfKappa25(kappa25: UsPerCm): MgPerL {
  requireInRange("reference conductivity", kappa25, 0, 70_000, "uS/cm");
  return whereRisingTakes(kappa25OfPotassiumChloride, kappa25, 0, potassiumChlorideRange.max);
}
