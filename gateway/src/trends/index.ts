export { createDriftStage, type DriftRead, driftCell } from "./drift-stage.ts";
export { type LevelMean, type StillDrift, sinceLastStep, stillDrift } from "./leak.ts";
