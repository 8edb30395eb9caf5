import type { Litre, MgPerL } from "../quantities/index.ts";
import { gramsOfBasis, requireInRange } from "../quantities/index.ts";

/** Agents that take chlorine away, by what becomes of them. */
export const dechlorinators = [
  "thiosulfate-pentahydrate",
  "thiosulfate",
  "sulfite",
  "bisulfite",
  "metabisulfite",
  "ascorbic-acid",
] as const;
/** One of them. */
export type Dechlorinator = (typeof dechlorinators)[number];

/** What thiosulfate becomes: tetrathionate (most is used), sulfur and sulfate, or sulfate (least). */
export type ThiosulfateEnd = "tetrathionate" | "sulfur" | "sulfate";

const chlorine = gramsOfBasis("Cl2");
const water = 18.01528;
const sodiumThiosulfate = 158.1077;

/** g/mol (standard atomic weights, IUPAC, abridged), and moles of Cl2 that a mole takes; thiosulfate by its end. */
const agents: Readonly<Record<Dechlorinator, { readonly gPerMol: number; readonly takes: number | null }>> = {
  "thiosulfate-pentahydrate": { gPerMol: sodiumThiosulfate + 5 * water, takes: null },
  thiosulfate: { gPerMol: sodiumThiosulfate, takes: null },
  sulfite: { gPerMol: 126.0427, takes: 1 },
  bisulfite: { gPerMol: 104.0609, takes: 1 },
  metabisulfite: { gPerMol: 190.1065, takes: 2 },
  "ascorbic-acid": { gPerMol: 176.1241, takes: 1 },
};

/**
 * Moles of Cl2 that a mole of thiosulfate takes: 2 S2O3 + Cl2 -> S4O6 + 2 Cl; S2O3 + Cl2 + H2O -> SO4 + S + 2 HCl;
 * S2O3 + 4 Cl2 + 5 H2O -> 2 SO4 + 8 HCl + 2 H.
 */
const thiosulfateTakes: Readonly<Record<ThiosulfateEnd, number>> = {
  tetrathionate: 0.5,
  sulfur: 1,
  sulfate: 4,
};

/** mg of an agent that take 1 mg of chlorine (as Cl2), by stoichiometry: nothing in reserve. */
export function dechlorinatorPerMg(agent: Dechlorinator, end: ThiosulfateEnd): number {
  const { gPerMol, takes } = agents[agent];
  return gPerMol / ((takes ?? thiosulfateTakes[end]) * chlorine);
}

/** g of an agent for so many litres with so much total chlorine (as Cl2), times a reserve (1–3). Throws OutOfRange. */
export function dechlorinatorGrams(
  drum: { readonly volumeL: Litre; readonly chlorineMgPerL: MgPerL },
  agent: Dechlorinator,
  end: ThiosulfateEnd,
  reserve: number,
): number {
  requireInRange("volume", drum.volumeL, 0.001, 1_000_000, "L");
  requireInRange("total chlorine", drum.chlorineMgPerL, 0, 20, "mg/L");
  requireInRange("reserve", reserve, 1, 3, "1");
  return (drum.volumeL * drum.chlorineMgPerL * reserve * dechlorinatorPerMg(agent, end)) / 1000;
}

/** What the label of a product promises: so much of it for so many litres with up to so much chlorine. */
export interface DechlorinatorLabel {
  readonly amount: number;
  readonly volumeL: Litre;
  readonly chlorineMgPerL: MgPerL;
}

/**
 * Amount of a product, in the unit of its label: in proportion to volume and chlorine, and never less than the label's own
 * for the volume. Throws OutOfRange.
 */
export function dechlorinatorOfLabel(
  drum: { readonly volumeL: Litre; readonly chlorineMgPerL: MgPerL },
  label: DechlorinatorLabel,
): { readonly amount: number; readonly timesLabel: number } {
  requireInRange("volume", drum.volumeL, 0.001, 1_000_000, "L");
  requireInRange("total chlorine", drum.chlorineMgPerL, 0, 20, "mg/L");
  requireInRange("amount on the label", label.amount, 1e-6, 1e6, "1");
  requireInRange("volume on the label", label.volumeL, 0.001, 1_000_000, "L");
  requireInRange("chlorine on the label", label.chlorineMgPerL, 0.01, 20, "mg/L");
  const timesLabel = Math.max(1, drum.chlorineMgPerL / label.chlorineMgPerL);
  return { amount: (label.amount * drum.volumeL * timesLabel) / label.volumeL, timesLabel };
}
