import type { Drum } from "../line/index.ts";
import type { Inflow } from "./drum-inflow.ts";
import type { NotStopping } from "./fill.ts";
import { type Learned, tripToleranceL, tripVolumeL, usualDurationMs, usualFlowLPerMin } from "./learned.ts";
import type { OpenFill } from "./open-fill.ts";

/** What tells whether a drum's stop works. */
interface StopWitness {
  readonly volumeL: number | null;
  readonly stopWet: boolean | null;
  readonly inflow: Inflow;
  readonly learned: Learned;
}

/**
 * Why the stop of a running fill is taken to have failed; null while it is not. Within `graceMs` of its trip a float's
 * valve may still be closing.
 */
export function whetherNotStopping(
  drum: Drum,
  state: StopWitness,
  open: OpenFill,
  graceMs: number,
  tMs: number,
): NotStopping | null {
  const stop = drum.floats.find(({ role }) => role === "stop");
  const trip = tripVolumeL(state.learned, stop?.tripsAtL ?? null);
  if (
    state.volumeL !== null &&
    trip !== null &&
    state.stopWet !== true &&
    state.volumeL > trip + tripToleranceL(state.learned, drum.volumeL)
  )
    return "past-trip-volume";
  if (open.trippedAtMs !== null && tMs - open.trippedAtMs > graceMs) {
    const usual = usualFlowLPerMin(state.learned);
    const flow = state.inflow.flowLPerMin;
    const since = open.litres === null || open.litresAtTrip === null ? null : open.litres - open.litresAtTrip;
    const runsOn = flow === null || usual === null || flow > 0.1 * usual;
    if (open.basis !== "calling-float" && runsOn && (since === null || since > 0.01 * drum.volumeL))
      return "goes-on-after-trip";
  }
  const usualMs = usualDurationMs(state.learned);
  const blind = state.volumeL === null && state.inflow.flowLPerMin === null;
  if (blind && usualMs !== null && tMs - open.startedAtMs > 1.2 * usualMs) return "longer-than-learned";
  return null;
}
