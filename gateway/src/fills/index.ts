export type { FlowBasis, RunState } from "./run.ts";
export { createRuns, type RunsState } from "./runs.ts";
