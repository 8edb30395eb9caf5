import type { Celsius, MgPerL } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { type IonAmounts, ionicStrengthOf, ions } from "./ions/ion.ts";
import { concentrationFactor, meanFeedFactor, netDrivingPressureKPa } from "./membrane.ts";
import { waterDensityGPerCm3 } from "./pure-compensation.ts";

/** J/(mol K): SI Brochure, 9th ed. (2019). */
const gasConstant = 8.314462618;
const sodiumChlorideGPerMol = 58.4428;
/** Volume that a mole of NaCl takes up in water, L: 16.6 mL at infinite dilution, a little more in brine. */
const sodiumChlorideLPerMol = 0.017;

/**
 * Osmotic coefficient of NaCl at 25 °C, molality 0–2 mol/kg: Pitzer and Mayorga, J. Phys. Chem. 77 (1973) 2300 (0.0765,
 * 0.2664, 0.00127). From 5 to 45 °C it moves by 1 % at most.
 */
function osmoticCoefficient(molality: number): number {
  const root = Math.sqrt(molality);
  return (
    1 -
    (0.392 * root) / (1 + 1.2 * root) +
    molality * (0.0765 + 0.2664 * Math.exp(-2 * root)) +
    molality * molality * 0.00127
  );
}

/** Osmotic pressure of NaCl, kPa, at a molality (0–2 mol/kg) and 0–45 °C: 2 phi m R T rho. Throws OutOfRange. */
export function osmoticPressureOfMolality(molality: number, tC: Celsius): number {
  requireInRange("molality", molality, 0, 2, "mol/kg");
  requireInRange("temperature", tC, 0, 45, "Cel");
  const kelvin = tC + 273.15;
  return 2 * osmoticCoefficient(molality) * molality * gasConstant * kelvin * waterDensityGPerCm3(tC);
}

/** Osmotic pressure, kPa, of dissolved solids stated as NaCl (0–100,000 mg/L), at 0–45 °C. Throws OutOfRange. */
export function osmoticPressureOfSolids(solidsMgPerL: MgPerL, tC: Celsius): number {
  requireInRange("dissolved solids", solidsMgPerL, 0, 100_000, "mg/L");
  requireInRange("temperature", tC, 0, 45, "Cel");
  const molPerL = solidsMgPerL / 1000 / sodiumChlorideGPerMol;
  const waterKgPerL = waterDensityGPerCm3(tC) * (1 - molPerL * sodiumChlorideLPerMol);
  return osmoticPressureOfMolality(molPerL / waterKgPerL, tC);
}

/** kPa for 1 mol/L of ions and molecules at 1 K: 1.12 psi (membrane makers' design guides), with phi 0.93 in it. */
const kPaPerMolePerKelvin = 1.12 * 6.894757293168;

/**
 * Osmotic pressure, kPa, of an ion analysis at 0–45 °C: 1.12 psi (273 + T) times the sum of mol/L. Ionic strength to 0.7
 * mol/L. Throws OutOfRange.
 */
export function osmoticPressureOfIons(amounts: IonAmounts, tC: Celsius): number {
  requireInRange("temperature", tC, 0, 45, "Cel");
  requireInRange("ionic strength", ionicStrengthOf(amounts), 0, 0.7, "mol/L");
  const molPerL = ions.reduce((sum, ion) => sum + (amounts[ion] ?? 0) / 1000, 0);
  return kPaPerMolePerKelvin * (273 + tC) * molPerL;
}

/** A membrane's pressures and water, from which its net driving pressure follows. */
export interface DrivenMembrane {
  readonly feedKPa: number;
  readonly dropKPa: number;
  readonly permeateKPa: number;
  /** Feed's dissolved solids, as NaCl. */
  readonly solidsMgPerL: MgPerL;
  readonly recovery: number;
  /** Share held back, against the feed. */
  readonly rejection: number;
  readonly tC: Celsius;
}

/** Net driving pressure with the osmotic pressures of mean feed, reject and permeate that went into it, kPa. */
export interface DrivingPressure {
  readonly netKPa: number;
  readonly osmoticFeedKPa: number;
  readonly osmoticRejectKPa: number;
  readonly osmoticPermeateKPa: number;
}

/**
 * Net driving pressure of a membrane: feed less half its drop, less permeate pressure, less what osmosis pulls back from
 * the mean feed along the membrane (ASTM D4516). Throws OutOfRange, also where nothing drives water.
 */
export function drivingPressure(membrane: DrivenMembrane): DrivingPressure {
  const { solidsMgPerL, recovery, rejection, tC, feedKPa, dropKPa, permeateKPa } = membrane;
  const osmotic = (times: number) => osmoticPressureOfSolids(solidsMgPerL * times, tC);
  const osmoticFeedKPa = osmotic(meanFeedFactor(recovery));
  const osmoticPermeateKPa = osmotic(1 - rejection);
  return {
    netKPa: netDrivingPressureKPa({ feedKPa, dropKPa, permeateKPa, osmoticFeedKPa, osmoticPermeateKPa }),
    osmoticFeedKPa,
    osmoticRejectKPa: osmotic(concentrationFactor(recovery, rejection)),
    osmoticPermeateKPa,
  };
}
