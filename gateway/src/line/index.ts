export { compileLine } from "./compile.ts";
export type {
  CompiledDrum,
  CompiledFloat,
  CompiledLine,
  CompiledPoint,
  CompiledStage,
  DrumBehind,
  MeasuredSeries,
  Meter,
  MeterOfDrum,
  Slot,
  ThingKind,
} from "./compiled-line.ts";
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
  Line,
  LineFault,
  LineResult,
  LineStage,
  Point,
  SolidsScale,
  StageKind,
} from "./line.ts";
export { readLine } from "./read-line.ts";
export { lineJsonSchema } from "./schema.ts";
export { readingSeriesOf, seriesNameOf } from "./series-names.ts";
export { inOwnUnit, kindOf, type MeasuredQuantity, quantityUnits, type Signal, signals } from "./signals.ts";
export { drumOf, type FloatRole, type Subject, type SubjectKind } from "./subject.ts";
