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
} from "./compiled-line.ts";
export {
  drumsBehind,
  feedOfResin,
  nearestProbeBefore,
  pointsBehind,
  pointsByNearness,
  stageInto,
} from "./graph.ts";
export { lineJsonSchema } from "./json-schema.ts";
export {
  type LimitRule,
  type LimitRules,
  settingsOf,
} from "./limits.ts";
export type {
  ChannelName,
  ChannelUse,
  Compensation,
  Drum,
  DrumLevel,
  Float,
  LimitValue,
  Line,
  LineFault,
  LineResult,
  LineStage,
  Point,
  SolidsScale,
  StageKind,
} from "./line.ts";
export { nameAtNode, nodeOf } from "./node-of.ts";
export type {
  Expected,
  MailServer,
  Notify,
  NotifyDestination,
  NotifyWay,
  WebhookSettings,
} from "./notify.ts";
export { type LinePlace, placesOf, signalThere } from "./places.ts";
export { type LineRules, readLine } from "./read-line.ts";
export type { LineKey, LineKeySection } from "./reference/key-text.ts";
export { lineReference, schemaKeys } from "./reference/line-reference.ts";
export { readingSeriesOf, seriesNameOf } from "./series-names.ts";
export {
  inOwnUnit,
  isClosed,
  kindOf,
  loopState,
  type MeasuredQuantity,
  quantityUnits,
  type Signal,
  signals,
} from "./signals.ts";
export { drumOf, type FloatRole, type Subject, type SubjectKind } from "./subject.ts";
export type { ThingKind } from "./things.ts";
