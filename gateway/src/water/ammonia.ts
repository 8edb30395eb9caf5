import type { Celsius, MgPerL, PH, PracticalSalinity } from "../quantities/index.ts";
import { gramsOfBasis, requireInRange } from "../quantities/index.ts";

/** pH between which the share of un-ionised ammonia is given. */
export const ammoniaPhRange = { min: 4, max: 12 } as const;

/** Share of the un-ionised form at a pH, from pKa: 0 to 1. */
export function unionisedShare(pKa: number, pH: PH): number {
  return 1 / (1 + 10 ** (pKa - pH));
}

const pureWaterPka = (tC: Celsius) => 0.09018 + 2729.92 / (tC + 273.15);

/** Published tables of the share end at this temperature, °C; the constants behind them were measured beyond it. */
export const ammoniaTablesEndC = 30;

/**
 * pKa of ammonia in fresh water: Emerson et al., J. Fish. Res. Board Can. 32 (1975) 2379, a fit to what Bates and Pinching,
 * J. Res. Natl. Bur. Stand. 42 (1949) 419, measured from 0 to 50 °C. 0–40 °C (OutOfRange); above 30 °C, where tables end,
 * it keeps to the measured values by 0.003. The older prints add 273.2 instead of 273.15, a shift of 0.0018 at most.
 */
export function ammoniaPkaFresh(tC: Celsius): number {
  requireInRange("temperature", tC, 0, 40, "Cel");
  return pureWaterPka(tC);
}

/** Temperatures and salinities for which the pKa in salt water is given. */
export const seaAmmoniaRange = { tC: { min: 0, max: 40 }, salinity: { min: 0, max: 45 } } as const;

/** Formal ionic strength of sea water, mol/kg of water, from practical salinity (Dickson and Goyet, DOE 1994). */
export function ionicStrengthOfSalinity(salinity: PracticalSalinity): number {
  return (19.9273 * salinity) / (1000 - 1.005109 * salinity);
}

/**
 * pKa of ammonium in salt water, for pH by NBS buffers or as free hydrogen ions: Khoo, Culberson and Bates, J. Solution
 * Chem. 6 (1977) 281, pKa of pure water + (0.1552 - 0.0003142 t) I, measured from 5 to 40 °C at salinities of 20 to 45,
 * with the pKa of Emerson et al. (1975) for pure water, so that fresh and salt water join. Gives the table of Bower and
 * Bidwell (1978) to 1.4 % of the share and the model of Clegg and Whitfield (1995) to 5 % from 0 to 30 °C, to 7 % at
 * 40 °C. On the total scale of ocean chemistry the pKa is lower, by 0.02 at 0 °C to 0.11 at 30 °C (Yao and Millero 1995).
 * 0–40 °C, salinity 0–45 (OutOfRange).
 */
export function ammoniaPkaSea(tC: Celsius, salinity: PracticalSalinity): number {
  const { tC: temperatures, salinity: salinities } = seaAmmoniaRange;
  requireInRange("temperature", tC, temperatures.min, temperatures.max, "Cel");
  requireInRange("salinity", salinity, salinities.min, salinities.max, "1");
  return pureWaterPka(tC) + (0.1552 - 0.0003142 * tC) * ionicStrengthOfSalinity(salinity);
}

/** mg/L of ammonia (NH3) that hold so many mg/L of nitrogen. */
export function ammoniaOfNitrogen(nitrogenMgPerL: MgPerL): MgPerL {
  return (nitrogenMgPerL * gramsOfBasis("NH3")) / gramsOfBasis("N");
}

/** mg/L of nitrogen in so many mg/L of ammonia (NH3). */
export function nitrogenOfAmmonia(ammoniaMgPerL: MgPerL): MgPerL {
  return (ammoniaMgPerL * gramsOfBasis("N")) / gramsOfBasis("NH3");
}
