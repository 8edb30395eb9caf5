import { figuresOf, type Learned, untaughtShare } from "./learned.ts";

/** Over this share of its volume a drum stands at its brim. */
export const brimShare = 0.99;
const deviations = 3;
const taughtShare = 0.02;
const steps = 3;
/** A valve that shuts slowly lets in no more than this of the room above a float that trips near the brim. */
const shutsWithin = 0.6;

/** Where a stop float trips and how far past it the drum may rise, litres. */
interface Bound {
  readonly tripL: number;
  readonly toleranceL: number;
}

/**
 * What is allowed for want of better knowledge reaches no farther than the brim, or a float that was moved to close under it
 * would not be guarded at all. Where it has been seen to trip at the brim itself, or the line says so, the volume is not that
 * of the edge: no level guards such a drum.
 */
function withinDrum({ tripL, toleranceL }: Bound, drumL: number, leastL: number, isSure: boolean): Bound {
  const roomL = drumL - tripL;
  if (roomL <= 0 || (isSure && roomL < taughtShare * drumL)) return { tripL, toleranceL };
  const mostL = Math.max(brimShare * drumL - tripL, shutsWithin * roomL, leastL);
  return { tripL, toleranceL: Math.min(toleranceL, mostL) };
}

/**
 * Where the stop float tripped at its last proof (the median of its first 5 to 10 trips since), else as the line says,
 * else as it tripped so far; and how far past it the drum may rise before the stop has failed: 3 standard deviations of
 * those trips, 2 % of the drum or 3 steps of the level, whichever is greatest; 4 % of the drum before 5 trips; near the brim
 * no more than 60 % of what is left to it, or what its trips and steps show. Null where nothing tells where it trips. Litres.
 */
export function tripBoundL(
  learned: Learned,
  saidL: number | null,
  drumL: number,
  stepL = 0,
): { readonly tripL: number; readonly toleranceL: number } | null {
  const { provedL, provedDeviationL, tripL: soFarL } = figuresOf(learned);
  const tripL = provedL ?? saidL ?? soFarL;
  if (tripL === null) return null;
  const spreadL = provedL === null ? 0 : deviations * (provedDeviationL ?? 0);
  const leastL = Math.max(spreadL, steps * stepL);
  const isTaught = provedL !== null && provedDeviationL !== null;
  const usualL = (isTaught ? taughtShare : untaughtShare) * drumL;
  const isSure = (provedL === null && saidL !== null) || learned.tripsL.length > 1;
  return withinDrum({ tripL, toleranceL: Math.max(usualL, leastL) }, drumL, leastL, isSure);
}
