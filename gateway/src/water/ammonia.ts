import type { Celsius, MgPerL, PH, PracticalSalinity } from "../quantities/index.ts";
import { gramsOfBasis, requireInRange } from "../quantities/index.ts";

/** pH between which the share of un-ionised ammonia is given. */
export const ammoniaPhRange = { min: 4, max: 12 } as const;

/** Share of the un-ionised form at a pH, from pKa: 0 to 1. */
export function unionisedShare(pKa: number, pH: PH): number {
  return 1 / (1 + 10 ** (pKa - pH));
}

/**
 * pKa of ammonia in fresh water: Emerson et al., J. Fish. Res. Board Can. 32 (1975) 2379. 0–30 °C (OutOfRange). The
 * older prints add 273.2 instead of 273.15, a shift of 0.0018 at most.
 */
export function ammoniaPkaFresh(tC: Celsius): number {
  requireInRange("temperature", tC, 0, 30, "Cel");
  return 0.09018 + 2729.92 / (tC + 273.15);
}

/**
 * pKa of ammonia in sea water, for pH on the NBS scale (probes and strips): Bell et al., Environ. Chem. 4 (2007) 212,
 * from memory; it keeps to the table of Bower and Bidwell, J. Fish. Res. Board Can. 35 (1978) 1012, to 0.008.
 * 0–30 °C, salinity 5–40 (OutOfRange).
 */
export function ammoniaPkaSea(tC: Celsius, salinity: PracticalSalinity): number {
  requireInRange("temperature", tC, 0, 30, "Cel");
  requireInRange("salinity", salinity, 5, 40, "1");
  return 10.0423 - 0.0315536 * tC + 0.003071 * salinity;
}

/** mg/L of ammonia (NH3) that hold so many mg/L of nitrogen. */
export function ammoniaOfNitrogen(nitrogenMgPerL: MgPerL): MgPerL {
  return (nitrogenMgPerL * gramsOfBasis("NH3")) / gramsOfBasis("N");
}

/** mg/L of nitrogen in so many mg/L of ammonia (NH3). */
export function nitrogenOfAmmonia(ammoniaMgPerL: MgPerL): MgPerL {
  return (ammoniaMgPerL * gramsOfBasis("N")) / gramsOfBasis("NH3");
}
