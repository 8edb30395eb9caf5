export { limitableConditions } from "./contradictions.ts";
export {
  drumsBehind,
  feedOfResin,
  nearestProbeBefore,
  pointsBehind,
  pointsByNearness,
  stageInto,
} from "./graph.ts";
export type {
  ChannelName,
  ChannelUse,
  Compensation,
  Drum,
  DrumLevel,
  Float,
  FloatRole,
  Line,
  LineFault,
  LineResult,
  LineStage,
  Point,
  Signal,
  SolidsScale,
  StageKind,
  SubjectKind,
} from "./line.ts";
export { readLine } from "./read-line.ts";
export { lineJsonSchema } from "./schema.ts";
