/** The HTTP contract: every answer of the API. Pages take their types from here and nothing else. */
export {
  type AlarmChangeView,
  type AlarmFiguresView,
  type AlarmView,
  alarmChangeSchema,
  alarmFiguresSchema,
  alarmJournalSchema,
  alarmListSchema,
  alarmSchema,
  type SilenceView,
  silenceListSchema,
} from "./contract/alarms.ts";
export { type DerivationView, derivationSchema } from "./contract/derivation.ts";
export {
  type LineDrawing,
  type LinePictures,
  lineDrawingSchema,
  linePicturesSchema,
} from "./contract/drawing.ts";
export { type FillView, fillListSchema, fillSchema } from "./contract/fills.ts";
export { type InfluxView, influxSchema } from "./contract/influx.ts";
export {
  type Buckets,
  bucketsSchema,
  type DrumView,
  drumSchema,
  type LineView,
  lineSchema,
  type PointView,
  pointSchema,
  type RejectionView,
  rejectionListSchema,
  rejectionSchema,
  type StageView,
  stageSchema,
} from "./contract/line.ts";
export { type LineReference, lineReferenceSchema } from "./contract/line-reference.ts";
export type { LiveEvent } from "./contract/live.ts";
export {
  type NightLine,
  type NightView,
  nightListSchema,
  nightSchema,
} from "./contract/nights.ts";
export { type NodeView, nodeListSchema, nodeSchema } from "./contract/node.ts";
export {
  type DestinationView,
  deliverySchema,
  destinationSchema,
  deviceSchema,
  type MessageView,
  messageListSchema,
  type NotificationsView,
  notificationsSchema,
  policySetSchema,
  seenLinkSchema,
  seenTokenSchema,
} from "./contract/notifications.ts";
export {
  auditListSchema,
  disabledBodySchema,
  type Me,
  meSchema,
  newNodeSecretSchema,
  newPersonSchema,
  newTokenBodySchema,
  newTokenSchema,
  type Person,
  type PersonSettings,
  passwordBodySchema,
  passwordChangeSchema,
  personListSchema,
  personSchema,
  roleBodySchema,
  roleSchema,
  settingsSchema,
  setUpSchema,
  signInSchema,
  type Token,
  tokenListSchema,
  tokenSchema,
} from "./contract/people.ts";
export { type Problem, problemSchema } from "./contract/problem.ts";
export {
  type ProofView,
  proofListSchema,
  proofSchema,
  type RunningProofView,
  runningProofSchema,
} from "./contract/proofs.ts";
export { type Quantity, quantitySchema } from "./contract/quantity.ts";
export {
  type AlarmChangeWord,
  type AlarmStateWord,
  type FlagReasonWord,
  type NotJudgedWord,
  time,
} from "./contract/words.ts";
