import { bareCallMs } from "../learned.ts";
import { spanL, type TripKnown, tripL } from "./trip-known.ts";

/** What flows in more than usual, by the pressure of the house: + 25 % (common practice, no source). */
const swing = 1.25;

/** The greatest flow that was seen; where nothing tells of flow, by how long the float's calls take. L/min. */
export function greatestFlow(known: TripKnown): number | null {
  const { said, learned } = known;
  const [span, callMs] = [spanL(known), learned ? bareCallMs(learned) : null];
  if (said.greatestFlowLPerMin !== null || span === null || callMs === null) return said.greatestFlowLPerMin;
  return (swing * span * 60_000) / callMs;
}

/** The most that can have come in in a time, litres. */
export function mostL(known: TripKnown, ms: number): number {
  const flow = greatestFlow(known);
  const { volumeL } = known.drum;
  return flow === null ? (tripL(known) ?? volumeL) : Math.min(volumeL, (flow * ms) / 60_000);
}

/** Calls in which more was drawn than what releases the float may each have brought so much of what is in at the trip (common practice, no source). */
const drawnShare = 0.5;

/**
 * The most that can have come in in a time where a float alone tells of it, litres: where each draw is a large one, the shortest
 * calls have brought more than fits between release and trip.
 */
export function mostCalledL(known: TripKnown, ms: number): number {
  const { said, learned } = known;
  const [span, callMs] = [spanL(known), learned ? bareCallMs(learned) : null];
  if (said.greatestFlowLPerMin !== null || span === null || callMs === null) return mostL(known, ms);
  return Math.max(mostL(known, ms), (drawnShare * (tripL(known) ?? 0) * ms) / callMs);
}
