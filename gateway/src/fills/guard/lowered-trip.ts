import type { Learned } from "../learned.ts";
import type { GuardState } from "./guard-state.ts";

/** So many trips in a row tell where it trips now. */
const trips = 5;
/** By more than twice what is allowed past a trip they lie under its proof: noise does not do that. */
const apartTimes = 2;

/** What its level reads now, litres; whether its float is up. */
interface Now {
  readonly learned: Learned;
  readonly litres: number | null;
  readonly isWet: boolean;
}
type Bound = { readonly tripL: number; readonly toleranceL: number };

/**
 * Its last five trips all read far lower than those of its proof: the float has slipped down, or the level reads less and
 * less. Either way a drum that rises past the highest of them has not been stopped. Null: they do not. Upwards nothing is
 * followed: a float that slips towards the edge is judged by its proof.
 */
function loweredTripL({ tripsL }: Learned, { tripL, toleranceL }: Bound): number | null {
  if (tripsL.length < trips) return null;
  const highestL = Math.max(...tripsL.slice(-trips));
  return tripL - highestL > apartTimes * toleranceL ? highestL : null;
}

/**
 * The bound as the last trips have it; that of the proof where they do not read far lower, or where the level has leapt past
 * them since: by more in one reading than what is allowed, somebody has set it right, and no water did that. So too
 * where the float has tripped again as high as its proof: one of the two was set right while the drum was low.
 */
export function lowered<Given extends Bound>(
  state: GuardState,
  { learned, litres, isWet }: Now,
  bound: Given | null,
): Given | null {
  const wasL = state.levelWasL ?? null;
  const tripL = bound && loweredTripL(learned, bound);
  if (litres !== null) state.levelWasL = litres;
  if (tripL === null || bound === null) {
    delete state.isSetRight;
    return bound;
  }
  const limitL = tripL + bound.toleranceL;
  if (isWet && litres !== null && litres >= bound.tripL - bound.toleranceL) state.isSetRight = true;
  if (
    litres !== null &&
    wasL !== null &&
    wasL <= limitL &&
    litres - wasL > bound.toleranceL &&
    litres > limitL
  )
    state.isSetRight = true;
  return state.isSetRight ? bound : { ...bound, tripL };
}
