import type { MgPerL } from "../../quantities/index.ts";
import { gramsOfBasis, requireInRange } from "../../quantities/index.ts";

/** Most hardness or alkalinity that is taken, mg/L as CaCO3. */
const maxMgPerL = 100_000;

/** Hardness as CaCO3 from calcium and magnesium: Standard Methods 2340 B (2.497 Ca + 4.118 Mg). */
export function hardnessOf(calciumMgPerL: MgPerL, magnesiumMgPerL: MgPerL): MgPerL {
  requireInRange("calcium", calciumMgPerL, 0, maxMgPerL, "mg/L");
  requireInRange("magnesium", magnesiumMgPerL, 0, maxMgPerL, "mg/L");
  return gramsOfBasis("CaCO3") * (calciumMgPerL / gramsOfBasis("Ca") + magnesiumMgPerL / gramsOfBasis("Mg"));
}

/** Hardness in its two parts, mg/L as CaCO3. */
export interface HardnessParts {
  /** Carbonate (temporary) hardness: what alkalinity goes with. */
  readonly carbonateMgPerL: MgPerL;
  /** Non-carbonate (permanent) hardness. */
  readonly nonCarbonateMgPerL: MgPerL;
  /** Alkalinity that goes with sodium or potassium instead. */
  readonly alkalinityBeyondMgPerL: MgPerL;
}

/** Hardness and alkalinity, both as CaCO3, in parts: Standard Methods 2340 A. Throws OutOfRange under 0. */
export function hardnessParts(hardnessMgPerL: MgPerL, alkalinityMgPerL: MgPerL): HardnessParts {
  requireInRange("hardness", hardnessMgPerL, 0, maxMgPerL, "mg/L");
  requireInRange("alkalinity", alkalinityMgPerL, 0, maxMgPerL, "mg/L");
  const carbonateMgPerL = Math.min(hardnessMgPerL, alkalinityMgPerL);
  return {
    carbonateMgPerL,
    nonCarbonateMgPerL: hardnessMgPerL - carbonateMgPerL,
    alkalinityBeyondMgPerL: alkalinityMgPerL - carbonateMgPerL,
  };
}
