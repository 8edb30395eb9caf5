import type { Celsius, MgPerL, PH, UsPerCm } from "../../quantities/index.ts";
import { gramsOfBasis, requireInRange } from "../../quantities/index.ts";
import { pKwOfWater, waterDensityGPerCm3 } from "../pure-compensation.ts";
import { carbonateConstants, singleActivity } from "./constants.ts";

const carbonDioxideGPerMol = 44.0095;

/** Carbonate in its forms. */
export interface CarbonateForms {
  /** Free CO2, with the little H2CO3 that is beside it. */
  readonly carbonDioxideMgPerL: MgPerL;
  readonly bicarbonateMgPerL: MgPerL;
  readonly carbonateMgPerL: MgPerL;
  /** All of them together. */
  readonly totalMmolPerL: number;
  /** CO2 of a gas that this water is in equilibrium with, millionths of 1 atm; outdoor air has some 420. */
  readonly carbonDioxidePpm: number;
}

/**
 * Carbonate from pH and alkalinity (mg/L as CaCO3) at a temperature: constants of Plummer and Busenberg 1982, activities by
 * Davies from the reference conductivity (ionic strength 1.6e-5 of it: Standard Methods 2330 B). All alkalinity is taken for
 * carbonate and hydroxide. pH 4–11, 0–50 °C, to 20,000 uS/cm; OutOfRange, also where hydroxide alone is above the alkalinity.
 */
export function carbonateForms(
  pH: PH,
  alkalinityMgPerL: MgPerL,
  tC: Celsius,
  kappa25: UsPerCm,
): CarbonateForms {
  requireInRange("pH", pH, 4, 11, "[pH]");
  requireInRange("reference conductivity", kappa25, 0, 20_000, "uS/cm");
  const { pK1, pK2, pKHenry } = carbonateConstants(tC);
  const gamma = singleActivity(1.6e-5 * kappa25, tC);
  const hydrogen = 10 ** -pH;
  const water = 10 ** -pKwOfWater(tC + 273.15, waterDensityGPerCm3(tC));
  const hydroxideLessHydrogen = (water / hydrogen - hydrogen) / gamma;
  const perMole = gramsOfBasis("CaCO3") * 1000;
  requireInRange(
    "alkalinity",
    alkalinityMgPerL,
    Math.max(0, hydroxideLessHydrogen * perMole),
    100_000,
    "mg/L",
    "At this pH hydroxide alone holds the least.",
  );
  const carbonateAlkalinity = alkalinityMgPerL / perMole - hydroxideLessHydrogen;
  // CO3 for one HCO3: K2 = {H}{CO3}/{HCO3}, and a charge of two has gamma to the fourth.
  const carbonateShare = 10 ** -pK2 / hydrogen / gamma ** 3;
  const bicarbonate = carbonateAlkalinity / (1 + 2 * carbonateShare);
  const carbonate = bicarbonate * carbonateShare;
  const carbonDioxide = (bicarbonate * gamma * hydrogen) / 10 ** -pK1;
  return {
    carbonDioxideMgPerL: carbonDioxide * carbonDioxideGPerMol * 1000,
    bicarbonateMgPerL: bicarbonate * gramsOfBasis("HCO3") * 1000,
    carbonateMgPerL: carbonate * 2 * gramsOfBasis("CO3") * 1000,
    totalMmolPerL: (carbonDioxide + bicarbonate + carbonate) * 1000,
    carbonDioxidePpm: (carbonDioxide / 10 ** -pKHenry) * 1e6,
  };
}
