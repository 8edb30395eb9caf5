export type { AppendFailure, Checkpoint, Journal, NewEntry } from "./journal.ts";
