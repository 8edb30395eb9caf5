import type { Learned } from "../learned.ts";
import type { GuardState } from "./guard-state.ts";

/** So many trips in a row tell where it trips now. */
const trips = 5;
/** By more than twice what is allowed past a trip they lie under its proof: noise does not do that. */
const apartTimes = 2;

/** What its level reads now, litres, and when; whether its float is up (null: it is not heard); how fast water comes at most, L/min. */
interface Now {
  readonly learned: Learned;
  readonly litres: number | null;
  readonly readMs: number | null;
  readonly isWet: boolean | null;
  readonly greatestFlowLPerMin: number;
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

/** The level has leapt past where its last trips were: by more than came in since its last reading. Litres; 0: it has not. */
function leaptByL(
  { levelWasL: wasL, levelWasMs: wasMs }: GuardState,
  { litres, readMs, greatestFlowLPerMin }: Now,
  { toleranceL }: Bound,
  limitL: number,
): number {
  if (litres === null || wasL === undefined || wasL > limitL || litres <= limitL) return 0;
  const cameL = (greatestFlowLPerMin * Math.max(0, (readMs ?? 0) - (wasMs ?? readMs ?? 0))) / 60_000;
  return litres - wasL > toleranceL + cameL ? litres - wasL : 0;
}

/**
 * What was set right reads higher by that from then on, where its float releases and where it trips. Where it does not, water was
 * poured in, or a float that stuck came free.
 */
function isBorneOut(state: GuardState, litres: number, isWet: boolean, highestL: number): boolean {
  const halfL = (state.setRightByL ?? 0) / 2;
  if (isWet) return litres >= highestL + halfL;
  return state.releasedL === undefined || litres >= state.releasedL + halfL;
}

/** Its float has changed over: what its level reads there. */
function followEdge(state: GuardState, { litres, isWet }: Now, highestL: number | null): void {
  if (isWet === null) return;
  const was = state.wasUp;
  state.wasUp = isWet;
  if (was === undefined || was === isWet || litres === null) return;
  if (highestL !== null && state.isSetRight && !isBorneOut(state, litres, isWet, highestL))
    delete state.isSetRight;
  if (!isWet) state.releasedL = litres;
}

/**
 * The bound as the last trips have it; that of the proof where they do not read far lower, or where the level has leapt past
 * them since: by more in one reading than what is allowed and can have come in, somebody has set it right. So too where the
 * float has tripped again as high as its proof: one of the two was set right while the drum was low. Either holds only as
 * long as the float's next edges bear it out.
 */
export function lowered<Given extends Bound>(state: GuardState, now: Now, bound: Given | null): Given | null {
  const { learned, litres, readMs, isWet } = now;
  const tripL = bound && loweredTripL(learned, bound);
  followEdge(state, now, tripL);
  const limitL = tripL === null || bound === null ? 0 : tripL + bound.toleranceL;
  const leaptL = tripL === null || bound === null ? 0 : leaptByL(state, now, bound, limitL);
  if (litres !== null) {
    state.levelWasL = litres;
    if (readMs !== null) state.levelWasMs = readMs;
  }
  if (tripL === null || bound === null) {
    delete state.isSetRight;
    return bound;
  }
  const isHighTrip = isWet === true && litres !== null && litres >= bound.tripL - bound.toleranceL;
  if (!state.isSetRight && (isHighTrip || leaptL > 0)) {
    state.isSetRight = true;
    state.setRightByL = leaptL > 0 ? leaptL : bound.tripL - tripL;
  }
  return state.isSetRight ? bound : { ...bound, tripL };
}
