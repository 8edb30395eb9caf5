export { fillCell, inflowCell, learnedCell, runCell, waterCell } from "./cells.ts";
export type { DrumWater, Fill, FillEnd, NotStopping } from "./fill.ts";
export { createFills, type FillOutcome, type FillsState } from "./fills.ts";
export { createFillsStage } from "./fills-stage.ts";
export { createFlowSources, type FlowSourcesState } from "./flow-sources.ts";
export {
  type Learned,
  learn,
  nothingLearned,
  tripVolumeL,
  usualDurationMs,
  usualFlowLPerMin,
} from "./learned.ts";
export type { FlowBasis, RunState } from "./run.ts";
export { createRuns, type RunsState } from "./runs.ts";
