import type { Celsius, MgPerL, PH, PracticalSalinity } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { ammoniaPkaSea, ionicStrengthOfSalinity, nitrogenOfAmmonia, unionisedShare } from "./ammonia.ts";

/** What aquatic life bears of total ammonia, mg/L as N. */
export interface AmmoniaCriteria {
  /** Average over an hour. */
  readonly acuteMgNPerL: MgPerL;
  /** Average over 30 days in fresh water, over four days in salt water. */
  readonly chronicMgNPerL: MgPerL;
}

// Of the pH terms of EPA 822-R-13-001: base + acid / (1 + 10^±(pivot - pH)).
function pHTerm(pH: PH, basic: number, acidic: number, pivot: number): number {
  return basic / (1 + 10 ** (pivot - pH)) + acidic / (1 + 10 ** (pH - pivot));
}

/**
 * Fresh water, total ammonia as N: EPA 822-R-13-001 (2013), 78 FR 52192. The chronic value is an average over 30 days;
 * the highest four-day average must stay under 2.5 times it. pH 6.5–9, 0–30 °C (OutOfRange).
 */
export function freshAmmoniaCriteria(pH: PH, tC: Celsius, trout: boolean): AmmoniaCriteria {
  requireInRange("pH", pH, 6.5, 9, "[pH]");
  requireInRange("temperature", tC, 0, 30, "Cel");
  const acuteTerm = 0.7249 * pHTerm(pH, 0.0114, 1.6181, 7.204);
  const invertebrates = 23.12 * 10 ** (0.036 * (20 - tC));
  const acuteMgNPerL = trout
    ? Math.min(pHTerm(pH, 0.275, 39, 7.204), acuteTerm * invertebrates)
    : acuteTerm * Math.min(51.93, invertebrates);
  const chronicTerm = 0.8876 * pHTerm(pH, 0.0278, 1.1994, 7.688);
  return { acuteMgNPerL, chronicMgNPerL: chronicTerm * 2.126 * 10 ** (0.028 * (20 - Math.max(tC, 7))) };
}

/** Un-ionised ammonia, mg/L as NH3, of EPA 440/5-88-004 (1989): one hour, four days. From memory. */
const saltAcuteMgPerL = 0.233;
const saltChronicMgPerL = 0.035;

/** What aquatic life in salt water bears: of total ammonia, and what of it is then un-ionised. */
export interface SaltAmmoniaCriteria extends AmmoniaCriteria {
  /** Un-ionised, as NH3, in the total above by `ammoniaPkaSea`. */
  readonly acuteUnionisedMgPerL: MgPerL;
  readonly chronicUnionisedMgPerL: MgPerL;
}

/**
 * Salt water, total ammonia as N: EPA 440/5-88-004 (1989), un-ionised 0.233 and 0.035 mg/L NH3, turned into total ammonia
 * as that document turned what its animals bore into un-ionised: by a pKa of its own (from memory), 0.02 lower than
 * `ammoniaPkaSea` at 25 °C and 0.06 at 0 °C. Undone by another pKa the totals would be up to 14 % laxer than those that
 * were measured and printed. The un-ionised values given beside them are by `ammoniaPkaSea`, so that either way of
 * comparing gives one verdict. pH 7–9, 0–35 °C, salinity 5–40 (OutOfRange).
 */
export function saltAmmoniaCriteria(pH: PH, tC: Celsius, salinity: PracticalSalinity): SaltAmmoniaCriteria {
  requireInRange("pH", pH, 7, 9, "[pH]");
  requireInRange("temperature", tC, 0, 35, "Cel");
  requireInRange("salinity", salinity, 5, 40, "1");
  const documentPka =
    9.245 + 0.116 * ionicStrengthOfSalinity(salinity) + 0.0324 * (25 - tC) + 0.0415 / (tC + 273.15);
  const documentShare = unionisedShare(documentPka, pH);
  const share = unionisedShare(ammoniaPkaSea(tC, salinity), pH);
  const unionised = (criterionMgPerL: MgPerL) => (criterionMgPerL / documentShare) * share;
  return {
    acuteMgNPerL: nitrogenOfAmmonia(saltAcuteMgPerL) / documentShare,
    chronicMgNPerL: nitrogenOfAmmonia(saltChronicMgPerL) / documentShare,
    acuteUnionisedMgPerL: unionised(saltAcuteMgPerL),
    chronicUnionisedMgPerL: unionised(saltChronicMgPerL),
  };
}
