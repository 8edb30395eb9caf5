import type { Celsius, MgPerL, UsPerCm } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { whereRisingTakes } from "./halving.ts";

// McCleskey, J. Chem. Eng. Data 56 (2011) 317: equivalent conductivity of NaCl, S cm2/mol, as
// c(T) - d(T) sqrt(m) / (1 + B sqrt(m)), m in mol/kg.
const bCoefficient = 1.3;
const limiting = (tC: number) => 0.008967 * tC * tC + 2.196 * tC + 67.03;
const slope = (tC: number) => 0.00726 * tC * tC + 1.762 * tC + 44.55;
const limiting25 = limiting(25);

/** g/mol, from the standard atomic weights of Na 22.98977 and Cl 35.45 (IUPAC 2021). */
const molarMassGPerMol = 58.4398;

/** Conductivity of very dilute NaCl at `tC` over that at 25 °C (McCleskey 2011). 0–95 °C. */
export function sodiumChlorideRatio(tC: Celsius): number {
  return limiting(tC) / limiting25;
}

/** Reference conductivity at 25 °C of sodium chloride in water, mg/L to uS/cm (McCleskey 2011). 0–50,000 mg/L. */
export function kappa25OfSodiumChloride(mgPerL: MgPerL): UsPerCm {
  requireInRange("sodium chloride", mgPerL, 0, 50_000, "mg/L");
  const mMolPerL = mgPerL / molarMassGPerMol;
  const root = Math.sqrt(mMolPerL / 1000);
  return mMolPerL * (limiting25 - (slope(25) * root) / (1 + bCoefficient * root));
}

/** Dissolved solids as NaCl from reference conductivity: the inverse of `kappa25OfSodiumChloride`. 0–70,000 uS/cm. */
export function sodiumChlorideOfKappa25(kappa25: UsPerCm): MgPerL {
  requireInRange("reference conductivity", kappa25, 0, 70_000, "uS/cm");
  return whereRisingTakes(kappa25OfSodiumChloride, kappa25, 0, 50_000);
}
