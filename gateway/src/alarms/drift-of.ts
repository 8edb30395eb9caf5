import type { FloatNow } from "../fills/index.ts";
import { median } from "../statistics/index.ts";

/** How a float trips now beside where it was set. */
interface Drift {
  /** Past where it was set by so many litres; less than 0: before. */
  readonly litres: number;
  /** Litres from there to the brim. */
  readonly roomL: number;
}

/** Fewer trips tell nothing. */
const trips = 5;

/** The drift of a float in a drum of this volume; null while too little is known of it. */
export function driftOf(float: FloatNow | undefined, volumeL: number): Drift | null {
  if (!float || float.setL === null || float.tripsL.length < trips) return null;
  return { litres: median(float.tripsL) - float.setL, roomL: volumeL - float.setL };
}
