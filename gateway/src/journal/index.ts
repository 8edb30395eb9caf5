export {
  type Checkpoint,
  type Journal,
  JournalError,
  type JournalErrorCode,
  type NewEntry,
} from "./journal.ts";
export { type JournalOptions, openJournal } from "./open-journal.ts";
