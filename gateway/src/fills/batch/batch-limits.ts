import { type Drum, type Line, settingsOf } from "../../line/index.ts";
import { usualSalinityWithin } from "../drum-band.ts";

/** A batch is ready once its salinity has stood within this of a middle for so long (common practice, no source). */
export const steadyWithin = 0.2;
/** A salinity has to stand still for so long before a batch is ready, ms. */
export const steadyMs = 30 * 60_000;
/** Out of its band for so long, and it can't be used. */
export const offMs = 10 * 60_000;
/** Of a drum that was used up a level says no more than this share. */
export const heelShare = 0.1;
/** A draw of this share of the drum: it is in use. */
export const useShare = 0.02;
/** Salt in water that nobody salted is believed after so long. */
export const saltSeenMs = 60_000;
/** Fresh water that is added on purpose is expected for so long. */
export const addingMs = 60 * 60_000;
/** Water runs into salt water: so much of the drum, or (litres not known) for so long. */
export const intrudesShare = 0.01;
/** Inflow into a salted batch is told after so long, ms. */
export const intrudesMs = 3 * 60_000;
/** A probe that was not heard for so long says nothing of the stretch. */
export const probeLifeMs = 5 * 60_000;

/** The salinities between which a drum's batch is ready; null where the line names no target. */
export function bandOf(
  line: Line,
  { id, target }: Drum,
): { readonly low: number; readonly high: number } | null {
  if (target.salinity === null) return null;
  const set = settingsOf(line, "drum-off-target", id).salinity_within;
  const within = typeof set === "number" ? set : usualSalinityWithin;
  return { low: target.salinity - within, high: target.salinity + within };
}
