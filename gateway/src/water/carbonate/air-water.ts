import type { Celsius, MgPerL, PH, UsPerCm } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";
import { whereRisingTakes } from "../halving.ts";
import { ionConductivity } from "../ions/ion.ts";
import { pKwOfWater, waterDensityGPerCm3, waterMobilities } from "../pure-compensation.ts";
import { carbonateConstants } from "./constants.ts";

/** Pure water that took up all the CO2 it can from a gas. */
export interface AirWater {
  readonly kappa: UsPerCm;
  readonly pH: PH;
  /** Free CO2. */
  readonly carbonDioxideMgPerL: MgPerL;
}

/**
 * Pure water in equilibrium with air: no purified water that stands open can read less for long. `carbonDioxidePpm` in
 * millionths of 1 atm: outdoor air some 420, a closed room 600 to 1500. Constants of Plummer and Busenberg 1982 and IAPWS
 * R11-07; with no CO2 it is pure water. 0–50 °C, 0–100,000 ppm (OutOfRange).
 */
export function airWater(tC: Celsius, carbonDioxidePpm: number): AirWater {
  requireInRange("CO2 in the air", carbonDioxidePpm, 0, 100_000, "ppm");
  const { pK1, pK2, pKHenry } = carbonateConstants(tC);
  const density = waterDensityGPerCm3(tC);
  const carbonDioxide = carbonDioxidePpm * 1e-6 * 10 ** -pKHenry;
  const water = 10 ** -pKwOfWater(tC + 273.15, density);
  const acid = carbonDioxide * 10 ** -pK1;
  const twice = acid * 10 ** -pK2;
  const excess = (h: number) => h - (water + acid) / h - (2 * twice) / (h * h);
  const hydrogen = whereRisingTakes(excess, 0, 1e-9, 0.01);
  const mobility = waterMobilities(tC);
  const sum =
    hydrogen * mobility.hydrogen +
    (water / hydrogen) * mobility.hydroxide +
    (acid / hydrogen) * ionConductivity("HCO3", tC, 0) +
    (twice / (hydrogen * hydrogen)) * ionConductivity("CO3", tC, 0);
  return {
    kappa: 1000 * density * sum,
    pH: -Math.log10(hydrogen),
    carbonDioxideMgPerL: carbonDioxide * 44.0095 * 1000 * density,
  };
}
