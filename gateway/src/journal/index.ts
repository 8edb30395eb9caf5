export { CheckpointCopy } from "./checkpoint-copy.ts";
export {
  type Checkpoint,
  type EntryWaiter,
  type Journal,
  JournalError,
  type JournalErrorCode,
  type NewEntry,
} from "./journal.ts";
export { lastSeqIn } from "./last-seq.ts";
export { type JournalOptions, type OpenedJournal, openJournal } from "./open-journal.ts";
export { journalSchema } from "./rows.ts";
export { checkpointSchema } from "./state-file.ts";
