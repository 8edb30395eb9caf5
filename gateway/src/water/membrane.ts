import type { Celsius, LitrePerMin, UsPerCm } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";

const recoveryRange = { min: 0.001, max: 0.99 } as const;

/** Share of the feed that becomes permeate, from the flows of permeate and reject. Throws OutOfRange. */
export function recoveryOf(permeate: LitrePerMin, reject: LitrePerMin): number {
  requireInRange("permeate flow", permeate, 0, 100_000, "L/min");
  requireInRange("reject flow", reject, 0, 100_000, "L/min");
  requireInRange(
    "feed flow",
    permeate + reject,
    1e-6,
    200_000,
    "L/min",
    "With no flow there is no recovery.",
  );
  return permeate / (permeate + reject);
}

/** Mean concentration along the membrane over the feed's: ln(1 / (1 - Y)) / Y at recovery Y 0.001–0.99 (ASTM D4516). Throws OutOfRange. */
export function meanFeedFactor(recovery: number): number {
  requireInRange("recovery", recovery, recoveryRange.min, recoveryRange.max, "1");
  return -Math.log1p(-recovery) / recovery;
}

/**
 * Reject over feed concentration at a recovery (0.001–0.99) and a rejection (0–1): (1 - Y (1 - R)) / (1 - Y), which is
 * 1 / (1 - Y) where the membrane holds all. Throws OutOfRange.
 */
export function concentrationFactor(recovery: number, rejection = 1): number {
  requireInRange("recovery", recovery, recoveryRange.min, recoveryRange.max, "1");
  requireInRange("rejection", rejection, 0, 1, "1");
  return (1 - recovery * (1 - rejection)) / (1 - recovery);
}

/**
 * Share of salt held back, from reference conductivities; against the mean along the membrane where a recovery is
 * given. Under 0 (permeate above the feed: probes swapped, or water standing still) it is given as it is. Throws
 * OutOfRange for a feed under 0.1 uS/cm.
 */
export function rejectionOf(feed: UsPerCm, permeate: UsPerCm, recovery?: number): number {
  requireInRange("conductivity of the feed", feed, 0.1, 1_000_000, "uS/cm");
  requireInRange("conductivity of the permeate", permeate, 0, 1_000_000, "uS/cm");
  return 1 - permeate / (feed * (recovery === undefined ? 1 : meanFeedFactor(recovery)));
}

/** K of the exponential correction for thin-film membranes, above and below 25 °C. */
const thinFilmK = { warm: 2640, cold: 3020 } as const;

/**
 * Flow through a thin-film membrane at 0–45 °C over that at 25 °C, at one pressure: exp(u (1/298 - 1/(273 + T))), u 2640
 * K from 25 °C up and 3020 K below, as membrane makers print it. Other makers' charts are milder in the cold: 0.48 here, up
 * to 0.58 there at 5 °C. Throws OutOfRange.
 */
export function membraneTemperatureFactor(tC: Celsius): number {
  requireInRange("water temperature", tC, 0, 45, "Cel");
  return Math.exp((tC < 25 ? thinFilmK.cold : thinFilmK.warm) * (1 / 298 - 1 / (273 + tC)));
}

/** Pressures over a membrane, kPa: gauge, and osmotic of the mean feed and of the permeate. */
export interface MembranePressures {
  readonly feedKPa: number;
  /** Feed less reject pressure. */
  readonly dropKPa: number;
  readonly permeateKPa: number;
  readonly osmoticFeedKPa: number;
  readonly osmoticPermeateKPa: number;
}

/** Net driving pressure, kPa (at least 1): Pf - drop/2 - Pp - osmotic feed + osmotic permeate (ASTM D4516). Throws OutOfRange. */
export function netDrivingPressureKPa(pressures: MembranePressures): number {
  for (const [name, kPa] of Object.entries(pressures)) requireInRange(name, kPa, 0, 10_000, "kPa");
  const { feedKPa, dropKPa, permeateKPa, osmoticFeedKPa, osmoticPermeateKPa } = pressures;
  const net = feedKPa - dropKPa / 2 - permeateKPa - osmoticFeedKPa + osmoticPermeateKPa;
  requireInRange("net driving pressure", net, 1, 20_000, "kPa", "Nothing drives water through the membrane.");
  return net;
}

/** Temperature of the water, and what its membrane's maker prints for it where that is known. */
export interface MembraneTemperature {
  readonly tC: Celsius;
  /** Flow over flow at 25 °C (0.1–5), from the maker's chart; left out: `membraneTemperatureFactor`. */
  readonly temperatureFactor?: number | undefined;
}

/** A membrane at work, as one moment or as the state that moments are compared with. */
export interface MembraneState extends MembranePressures, MembraneTemperature {}

function temperatureFactorOf({ tC, temperatureFactor }: MembraneTemperature): number {
  if (temperatureFactor === undefined) return membraneTemperatureFactor(tC);
  requireInRange("temperature factor", temperatureFactor, 0.1, 5, "1");
  return temperatureFactor;
}

/** Permeate flow, L/min, as it would be in the standard state: ASTM D4516. Throws OutOfRange. */
export function normalizedFlow(
  permeate: LitrePerMin,
  actual: MembraneState,
  standard: MembraneState,
): number {
  requireInRange("permeate flow", permeate, 0, 100_000, "L/min");
  const of = ({ tC, temperatureFactor, ...pressures }: MembraneState) =>
    netDrivingPressureKPa(pressures) * temperatureFactorOf({ tC, temperatureFactor });
  return permeate * (of(standard) / of(actual));
}

/** What salt passage is normalised from and to. */
export interface PassageState extends MembraneTemperature {
  readonly permeateLPerMin: LitrePerMin;
  /** Concentration of the feed, and of the mean along the membrane, in any one unit. */
  readonly feed: number;
  readonly meanFeed: number;
}

/**
 * Salt passage (0–1) as it would be in the standard state, where the membrane gives the standard flow: SPa × (flow a /
 * flow s) × (STCF s / STCF a) × (mean s / mean a) × (feed a / feed s), the form of ASTM D4516: salt passes by the mean
 * along the membrane, and is told against the feed. The salt's temperature factor is taken as the water's, as makers do
 * where they print no other. Throws OutOfRange.
 */
export function normalizedPassage(passage: number, actual: PassageState, standard: PassageState): number {
  requireInRange("salt passage", passage, 0, 1, "1");
  for (const state of [actual, standard]) {
    requireInRange("permeate flow", state.permeateLPerMin, 1e-6, 100_000, "L/min");
    requireInRange("concentration of the feed", state.feed, 1e-3, 1e6, "1");
    requireInRange("mean concentration", state.meanFeed, 1e-3, 1e6, "1");
  }
  const found =
    passage *
    (actual.permeateLPerMin / standard.permeateLPerMin) *
    (temperatureFactorOf(standard) / temperatureFactorOf(actual)) *
    (standard.meanFeed / actual.meanFeed) *
    (actual.feed / standard.feed);
  const hint =
    "Flows or concentrations of the two states are not in one unit, or the states lie too far apart.";
  requireInRange("salt passage in the standard state", found, 0, 1, "1", hint);
  return found;
}
