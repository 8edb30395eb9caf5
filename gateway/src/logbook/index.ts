export type { ActDone, ActRecord } from "./act-records.ts";
export type { DerivationQueue, WaitingDerivation } from "./derivation-queue.ts";
export type { FillsAsked } from "./fill-records.ts";
export type { Logbook } from "./logbook.ts";
export { openLogbook } from "./open-logbook.ts";
export type { PastEvent } from "./past-events.ts";
export { readLogbook } from "./read-logbook.ts";
export { isRecorded, type LogbookOutcome, logbookSchema, type RecordName, recordNames } from "./records.ts";
export type { RejectionCount } from "./rejection-counts.ts";
