import type { MeqPerL, MgPerL } from "../../quantities/index.ts";
import { gramsOfBasis, requireInRange } from "../../quantities/index.ts";
import { type Ion, ionAmounts, ionFacts, ions } from "./ion.ts";

/** An analysis: ions in mg/L (nitrate and ammonium as themselves, not as N), and silica. */
export interface WaterAnalysis {
  readonly ions: Readonly<Partial<Record<Ion, MgPerL>>>;
  /** mg/L as SiO2. */
  readonly silicaMgPerL: MgPerL;
}

/** Charges on both sides, and whether they balance well enough. */
export interface ChargeBalance {
  readonly cationsMeqPerL: MeqPerL;
  readonly anionsMeqPerL: MeqPerL;
  /** 100 (cations - anions) / (cations + anions). */
  readonly balancePercent: number;
  /** Greatest difference that Standard Methods 1030 E lets pass, meq/L. */
  readonly allowedMeqPerL: MeqPerL;
  readonly acceptable: boolean;
}

/** Equivalents of an ion, meq/L, without sign. */
export function equivalentsOf(ion: Ion, mgPerL: MgPerL): MeqPerL {
  const { charge, gPerMol } = ionFacts(ion);
  return (mgPerL * Math.abs(charge)) / gPerMol;
}

/**
 * Charge balance with the limits of Standard Methods 1030 E (from memory): anions to 3 meq/L: 0.2 meq/L; to 10: 2 % of the
 * sum of both sides; above: 5 %. Throws OutOfRange where nothing is charged.
 */
export function chargeBalance(analysis: WaterAnalysis): ChargeBalance {
  const amounts = ionAmounts(analysis.ions);
  let cationsMeqPerL = 0;
  let anionsMeqPerL = 0;
  for (const ion of ions) {
    const { charge } = ionFacts(ion);
    const equivalents = (amounts[ion] ?? 0) * Math.abs(charge);
    if (charge > 0) cationsMeqPerL += equivalents;
    else anionsMeqPerL += equivalents;
  }
  const both = cationsMeqPerL + anionsMeqPerL;
  requireInRange("sum of charges", both, 1e-9, 1e6, "meq/L", "An analysis must name ions.");
  const allowedMeqPerL = anionsMeqPerL <= 3 ? 0.2 : both * (anionsMeqPerL <= 10 ? 0.02 : 0.05);
  const difference = cationsMeqPerL - anionsMeqPerL;
  return {
    cationsMeqPerL,
    anionsMeqPerL,
    balancePercent: (100 * difference) / both,
    allowedMeqPerL,
    acceptable: Math.abs(difference) <= allowedMeqPerL,
  };
}

/** What is dissolved, in three ways, mg/L. */
export interface SolidsOfAnalysis {
  /** Plain sum of all ions and silica. */
  readonly sumMgPerL: MgPerL;
  /** What is left when the water dries: half of bicarbonate goes off as CO2 and water (Hem, USGS WSP 2254, 1985). */
  readonly residueMgPerL: MgPerL;
  /** Standard Methods 1030 E: 0.6 of alkalinity as CaCO3, silica as SiO3, nitrate as N, and all else as it is. */
  readonly calculatedMgPerL: MgPerL;
}

/** What stays of bicarbonate when the water dries: CO3 for two HCO3. */
const bicarbonateResidue = 60.0089 / (2 * 61.01684);
const silicaAsSiO3 = 76.0837 / 60.0843;

/** Dissolved solids of an analysis. Throws OutOfRange for negative values. */
export function solidsOfAnalysis({ ions: mgPerL, silicaMgPerL }: WaterAnalysis): SolidsOfAnalysis {
  ionAmounts(mgPerL);
  requireInRange("silica", silicaMgPerL, 0, 1e6, "mg/L");
  const named = ions.reduce((sum, ion) => sum + (mgPerL[ion] ?? 0), 0);
  const bicarbonate = mgPerL.HCO3 ?? 0;
  const carbonate = mgPerL.CO3 ?? 0;
  const nitrate = mgPerL.NO3 ?? 0;
  const alkalinity =
    gramsOfBasis("CaCO3") * (bicarbonate / gramsOfBasis("HCO3") + carbonate / gramsOfBasis("CO3"));
  return {
    sumMgPerL: named + silicaMgPerL,
    residueMgPerL: named + silicaMgPerL - (1 - bicarbonateResidue) * bicarbonate,
    calculatedMgPerL:
      named -
      bicarbonate -
      carbonate -
      nitrate +
      0.6 * alkalinity +
      nitrate * (gramsOfBasis("N") / gramsOfBasis("NO3")) +
      silicaMgPerL * silicaAsSiO3,
  };
}
