export { isLoopback } from "./addresses.ts";
export { calls } from "./calls.ts";
export type {
  AskedOfNode,
  AssignedChannel,
  HttpComponents,
  HttpOptions,
  LineFileAccess,
  LineFileSaved,
  Metric,
  NodeAnswer,
  NotAsked,
  TlsFiles,
  Told,
} from "./components.ts";
export type {
  AlarmView,
  DerivationView,
  DrumView,
  LineView,
  LiveEvent,
  NodeView,
  PointView,
  Quantity,
  StageView,
} from "./contract.ts";
export { createHttp } from "./create-http.ts";
export { nightView } from "./night-views.ts";
export { noteLineChanges } from "./note-line-changes.ts";
export { everyCode, everyCodeIn } from "./problems.ts";
export { eventOfRecord } from "./record-kinds.ts";
export {
  alarmChangeView,
  alarmView,
  becauseOf,
  fillView,
  iso,
  proofView,
  runningProofView,
} from "./views.ts";
