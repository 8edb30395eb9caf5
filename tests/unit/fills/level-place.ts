import type { LevelPlace } from "../../../gateway/src/fills/witness/level-trace.ts";

/** A drum of 200 L with a level, of which nothing else is said. */
export const place: LevelPlace = {
  volumeL: 200,
  greatestFlowLPerMin: 5,
  stopWet: null,
  stopHeardMs: null,
  releaseL: null,
  resolutionL: null,
  callsSinceMs: null,
  openSinceMs: null,
  meteredLPerMin: null,
  meteredSinceMs: null,
};
