import type { MeqPerL, MgPerL, UsPerCm } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";

// g per equivalent, from the standard atomic weights (IUPAC 2021, abridged). On a strong-base resin in OH form CO2 and
// silica take one site each, as HCO3 and HSiO3.
const cations = {
  calcium: 40.078 / 2,
  magnesium: 24.305 / 2,
  sodium: 22.98977,
  potassium: 39.0983,
  ammonium: 18.0385,
} as const;
const anions = {
  bicarbonate: 61.0168,
  chloride: 35.453,
  sulfate: 96.062 / 2,
  nitrate: 62.0049,
  fluoride: 18.9984,
} as const;
const weakAcids = { carbonDioxide: 44.0095, silica: 60.0843 } as const;

/** What a resin has to hold, by name. */
export type LoadName = keyof typeof cations | keyof typeof anions | keyof typeof weakAcids;

/** mg/L of each ion as itself, CO2 as CO2, silica as SiO2; what is left out is none. */
export type LoadWater = Readonly<Partial<Record<LoadName, MgPerL>>>;

/** Equivalents in a litre of feed, by what they load. */
export interface ResinLoad {
  readonly cations: MeqPerL;
  /** Anions that conduct: a conductivity probe sees these. */
  readonly anions: MeqPerL;
  readonly carbonDioxide: MeqPerL;
  readonly silica: MeqPerL;
  /** Anions, CO2 and silica: what the anion resin holds. */
  readonly anionResin: MeqPerL;
  /** The greater of cations and anion resin: what exhausts a balanced mixed bed. */
  readonly governing: MeqPerL;
}

/** Every name of a load. */
export const loadNames = [
  ...Object.keys(cations),
  ...Object.keys(anions),
  ...Object.keys(weakAcids),
] as LoadName[];

function sumOf(water: LoadWater, masses: Readonly<Partial<Record<LoadName, number>>>): MeqPerL {
  let sum = 0;
  for (const [name, gPerEq] of Object.entries(masses)) {
    const mgPerL = water[name as LoadName] ?? 0;
    requireInRange(name, mgPerL, 0, 10_000, "mg/L");
    sum += mgPerL / gPerEq;
  }
  return sum;
}

/** Load of a feed on a mixed bed, meq/L, from mg/L (0–10,000 of each). Throws OutOfRange. */
export function resinLoad(water: LoadWater): ResinLoad {
  const cation = sumOf(water, cations);
  const anion = sumOf(water, anions);
  const carbonDioxide = sumOf(water, { carbonDioxide: weakAcids.carbonDioxide });
  const silica = sumOf(water, { silica: weakAcids.silica });
  const anionResin = anion + carbonDioxide + silica;
  return {
    cations: cation,
    anions: anion,
    carbonDioxide,
    silica,
    anionResin,
    governing: Math.max(cation, anionResin),
  };
}

/** Ionic load as conductivity leaves it possible: the mean of cations and anions, without CO2 and silica. */
export interface LoadInterval {
  readonly likely: MeqPerL;
  readonly low: MeqPerL;
  readonly high: MeqPerL;
  /** Whether the conductivity lies among those of the waters that the interval was measured on. */
  readonly measured: boolean;
}

// uS/cm at 25 °C for each meq/L: ten ground waters of Stuyfzand, KIWA SWE 87-006 (1987), table 3.1, of 75 to 1139 uS/cm.
// Bicarbonate of calcium lies at the low end, chloride at the high one; their mean is 100.6.
const kappaPerMeq = { low: 92, likely: 100, high: 113 } as const;
const measuredKappa = { min: 70, max: 1200 } as const;

/**
 * Ionic load, meq/L, from reference conductivity (0–10,000 uS/cm), with the interval that ten measured natural waters leave
 * (Stuyfzand 1987). The trade's uS/cm over 2.5 as mg/L of CaCO3, which is over 125 as meq/L, is too low for every one of
 * them. Sees neither CO2 nor silica; an acid water conducts far more for its load. Throws OutOfRange.
 */
export function loadOfConductivity(kappa25: UsPerCm): LoadInterval {
  requireInRange("conductivity", kappa25, 0, 10_000, "uS/cm");
  return {
    likely: kappa25 / kappaPerMeq.likely,
    low: kappa25 / kappaPerMeq.high,
    high: kappa25 / kappaPerMeq.low,
    measured: kappa25 >= measuredKappa.min && kappa25 <= measuredKappa.max,
  };
}

/**
 * Load behind a membrane that holds back a share of ions (0–0.9999) and of silica; CO2 passes it whole. Throws
 * OutOfRange.
 */
export function loadBehindMembrane(
  feed: ResinLoad,
  rejection: number,
  silicaRejection = rejection,
): ResinLoad {
  requireInRange("rejection", rejection, 0, 0.9999, "1");
  requireInRange("rejection of silica", silicaRejection, 0, 0.9999, "1");
  const cation = feed.cations * (1 - rejection);
  const anion = feed.anions * (1 - rejection);
  const silica = feed.silica * (1 - silicaRejection);
  const anionResin = anion + feed.carbonDioxide + silica;
  return {
    cations: cation,
    anions: anion,
    carbonDioxide: feed.carbonDioxide,
    silica,
    anionResin,
    governing: Math.max(cation, anionResin),
  };
}
