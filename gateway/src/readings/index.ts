export { clockOffsetFact, clockOffsetOf } from "./clock-offset.ts";
export type {
  ActEntry,
  Derivation,
  DerivedEntry,
  JournalEntry,
  LineEntry,
  MessageEntry,
  PastHold,
  StartEntry,
  StopEntry,
  TickEntry,
  WorldEntry,
  WorldFact,
} from "./entry.ts";
export type { ForeignTopic } from "./foreign.ts";
export { type NodeNow, nodeCell } from "./node-now.ts";
export { NodePacks } from "./node-packs.ts";
export { afterPackStep, type NodeSpacing } from "./node-spacing.ts";
export { createPastNodesStage } from "./past-nodes-stage.ts";
export type { Flag, NodePresence, PackTaken, Reading } from "./reading.ts";
export { byTemperatureThenChannel, byTimeThenTemperature } from "./reading-order.ts";
export { Readings, type ReadingsOutcome, type ReadingsState } from "./readings.ts";
export { createReadingsStage } from "./readings-stage.ts";
export { type Rejection, type RejectionCode, rejections } from "./rejection.ts";
export type { SavedNode } from "./saved-node.ts";
export { afterStep, type Spacing } from "./spacing.ts";
export type { Emit, Stage } from "./stage.ts";
export { isStartChannel, startChannel } from "./start-channel.ts";
export { createWorldStage, type WorldNow, worldCell, worldKey } from "./world-stage.ts";
