import type { Act } from "../acts/index.ts";

/** One entry of the journal: what came in, in one sequence. `seq` starts at 1 and has no gaps. */
interface EntryBase {
  readonly seq: number;
  /** Gateway time when it came, epoch ms; never smaller than the entry before. */
  readonly receivedAt: number;
}
/** A message as it came: topic and bytes, undecoded. */
export interface MessageEntry extends EntryBase {
  readonly kind: "message";
  readonly topic: string;
  readonly payload: Uint8Array;
}
/** What an operator did or entered. */
export interface ActEntry extends EntryBase {
  readonly kind: "act";
  readonly act: Act;
}
/** A new line description, as the YAML text that was checked and taken. */
export interface LineEntry extends EntryBase {
  readonly kind: "line";
  readonly yaml: string;
}
/** A deadline passed with nothing arriving. */
export interface TickEntry extends EntryBase {
  readonly kind: "tick";
}
/** The gateway started: its version and the instance id of the data folder. */
export interface StartEntry extends EntryBase {
  readonly kind: "start";
  readonly version: string;
  readonly instance: string;
}
/** The gateway stopped in order. */
export interface StopEntry extends EntryBase {
  readonly kind: "stop";
}
export type JournalEntry = MessageEntry | ActEntry | LineEntry | TickEntry | StartEntry | StopEntry;
