export { createCountersStage } from "./counters/counters-stage.ts";
export {
  type Counted,
  countedCell,
  type Edges,
  edgesCell,
  hasCounted,
  isProvedUnchanged,
  type Unchanged,
  unchangedCell,
} from "./counters/unchanged.ts";
export { createCurrentStage, lifeMs, seriesLifeMs } from "./current-stage.ts";
export {
  type CurrentMeasurement,
  type LateMeasurement,
  type Latest,
  latestCell,
  type StaleMeasurement,
  type Unheard,
} from "./latest.ts";
export type { FlagReason, Gone, Measurement, Unassigned } from "./measurement.ts";
export { channelOfReadingSeries, seriesOf } from "./measurement.ts";
export { Measurements } from "./measurements.ts";
export { createMeasurementsStage, saidCell, stepCell, unassignedCell } from "./measurements-stage.ts";
export { aliveMs } from "./proof-of-life.ts";
export {
  type FloatTests,
  isProof,
  type Proof,
  type ProofResult,
  proofCell,
  type RunningProof,
} from "./proofs/proof.ts";
export { createProofsStage } from "./proofs/proofs-stage.ts";
