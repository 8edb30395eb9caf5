export {
  type ActRecord,
  type Logbook,
  type LogbookOutcome,
  openLogbook,
  type RejectionCount,
} from "./open-logbook.ts";
