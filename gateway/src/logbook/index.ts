export type { DerivationQueue, WaitingDerivation } from "./derivation-queue.ts";
export {
  type ActRecord,
  type Logbook,
  type LogbookOutcome,
  openLogbook,
  type PastEvent,
  type RejectionCount,
} from "./open-logbook.ts";
