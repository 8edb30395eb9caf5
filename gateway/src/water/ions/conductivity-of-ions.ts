import type { Celsius, UsPerCm } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";
import { type IonAmounts, ionConductivity, ionFacts, ionicStrengthOf, ions } from "./ion.ts";
import { freeIons } from "./pairs.ts";

/** Conductivity from an ion analysis, and the ionic strength that went into it. */
export interface IonicConductivity {
  readonly kappa: UsPerCm;
  /** mol/L. */
  readonly ionicStrength: number;
}

/**
 * Ionic strength, mol/L, to which Standard Methods 2510 A is taken: the strongest of the waters that it was compared with has
 * 0.017. There single salts are off by -17 % (KCl) to +20 % (MgSO4); at 0.1 mol/L by -28 to +32 % (CRC Handbook).
 */
const standardMethodsStrength = { min: 0, max: 0.02 } as const;

/**
 * Reference conductivity from ions: Standard Methods 2510 A. Ionic strength to 0.02 mol/L (OutOfRange). Over ten analyses
 * of Stuyfzand 1987 it lies from 9 % under to 8 % over what was measured; for KCl it falls 5 % short at 0.001 mol/L.
 */
export function standardMethodsConductivity25(amounts: IonAmounts): IonicConductivity {
  const ionicStrength = ionicStrengthOf(amounts);
  const { min, max } = standardMethodsStrength;
  const hint = "Stronger water: conductivity-of-ions, which counts pairs of ions.";
  requireInRange("ionic strength", ionicStrength, min, max, "mol/L", hint);
  const dilute = ions.reduce((sum, ion) => {
    const { charge, standardPerEquivalent } = ionFacts(ion);
    return sum + Math.abs(charge) * standardPerEquivalent * (amounts[ion] ?? 0);
  }, 0);
  const root = Math.sqrt(ionicStrength);
  const activity = 10 ** (-0.5 * (root / (1 + root) - 0.3 * ionicStrength));
  return { kappa: dilute * activity * activity, ionicStrength };
}

/** Ionic strength, mol/kg, to which McCleskey 2012 is stated to hold. */
const mccleskeyMax = 0.7;

/**
 * Conductivity at a temperature from ions: McCleskey et al., Geochim. Cosmochim. Acta 77 (2012) 369, after calcium and
 * magnesium have paired with sulfate and carbonate. 0–95 °C, ionic strength to 0.7 mol/kg (OutOfRange), where a litre is
 * taken for a kilogram. Stated from 0.0004 mol/kg up; under it single salts are met to 2 % (CRC Handbook), where Standard
 * Methods 2510 A is already 3 % low, so there is one way and no step. Over ten analyses of Stuyfzand 1987 it lies 1 to
 * 4 % over what was measured, for one of them 11 %; single salts of 0.1 mol/L of charge: from -10 % (Na2SO4) to +6 %
 * (MgCl2).
 */
export function mccleskeyConductivity(amounts: IonAmounts, tC: Celsius): IonicConductivity {
  requireInRange("temperature", tC, 0, 95, "Cel");
  requireInRange("ionic strength", ionicStrengthOf(amounts), 0, mccleskeyMax, "mol/L");
  return sumOfIons(freeIons(amounts, tC), tC);
}

/** The same sum with no pairs taken off: for salts whose ions don't pair. */
export function sumOfIons(amounts: IonAmounts, tC: Celsius): IonicConductivity {
  const ionicStrength = ionicStrengthOf(amounts);
  const kappa = ions.reduce((sum, ion) => {
    const amount = amounts[ion] ?? 0;
    return amount > 0 ? sum + amount * ionConductivity(ion, tC, ionicStrength) : sum;
  }, 0);
  return { kappa, ionicStrength };
}
