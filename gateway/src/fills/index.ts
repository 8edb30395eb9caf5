export type { FlowBasis, RunState } from "./run.ts";
