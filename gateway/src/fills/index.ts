export {
  type BackFlow,
  backFlowLimit25,
  backFlowMs,
  backFlowPlaces,
  maxSupplyAgeMs,
  usualBackFlow25,
} from "./back-flow/back-flow.ts";
export { createBackFlowStage } from "./back-flow/back-flow-stage.ts";
export { type Batch, type BatchState, isBeingMixed, isSalted } from "./batch/batch.ts";
export { createBatchStage } from "./batch/batch-stage.ts";
export { feedBefore, isBehindMembrane, membraneLimit25 } from "./behind-membrane.ts";
export {
  backFlowCell,
  batchCell,
  chlorineCell,
  feedCell,
  fillCell,
  floatCell,
  guardCell,
  inflowCell,
  learnedCell,
  meterCell,
  probeCell,
  runCell,
  waterCell,
  witnessCell,
} from "./cells.ts";
export { type Chlorine, chlorineFailsFrom, freeChlorineTells, testAgainMs } from "./chlorine/chlorine.ts";
export { createChlorineStage } from "./chlorine/chlorine-stage.ts";
export { bandByFeed25, freshBandOf, usualSalinityWithin } from "./drum-band.ts";
export { pointSeenFor } from "./drum-feed.ts";
export type { DrumWitnesses, FloatSaid, LevelSaid, MeterSaid, Said } from "./drum-witnesses.ts";
export { type DrumWater, type Fill, type FillEnd, type NotStopping, reasonsOf } from "./fill.ts";
export type { FloatChanged, FloatNow, ProvedBy } from "./floats/float-now.ts";
export { createFloatsStage } from "./floats/floats-stage.ts";
export type { Disagreement, FillIsLong, Guard, GuardChange, GuardReason, StopFailed } from "./guard/guard.ts";
export { type GuardFigures, guardFigures } from "./guard/guard-figures.ts";
export {
  type Learned,
  learn,
  nothingLearned,
  tripVolumeL,
  usualDurationMs,
  usualFlowLPerMin,
} from "./learned.ts";
export type { FillOutcome } from "./outcome.ts";
export { flatRuns, isFlat, type ProbeChanged, type ProbeNow } from "./probes/probe-now.ts";
export { createProbesStage } from "./probes/probes-stage.ts";
export type { Inflow } from "./record/best-witness.ts";
export { createFillsStage } from "./record/record-stage.ts";
export type { FlowBasis, RunState } from "./run.ts";
export { createRunsStage } from "./runs/runs-stage.ts";
export type { FloatEdge } from "./witness/float-edge.ts";
export { createWitnesses } from "./witness/witness-stage.ts";
export { bandNow25 } from "./word/band-now.ts";
export { createWaterStage } from "./word/water-stage.ts";
