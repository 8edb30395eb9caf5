import type { BackFlow } from "./back-flow/back-flow.ts";
import type { Batch } from "./batch/batch.ts";
import type { Chlorine } from "./chlorine/chlorine.ts";
import type { DrumWater, Fill } from "./fill.ts";
import type { FloatChanged } from "./floats/float-now.ts";
import type { GuardChange } from "./guard/guard.ts";
import type { ProbeChanged } from "./probes/probe-now.ts";
import type { FloatEdge } from "./witness/float-edge.ts";

/** What the stages of this room tell of drums. */
export type FillOutcome =
  | Fill
  | BackFlow
  | Batch
  | Chlorine
  | DrumWater
  | GuardChange
  | FloatChanged
  | FloatEdge
  | ProbeChanged;
