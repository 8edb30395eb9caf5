export type {
  ActEntry,
  JournalEntry,
  LineEntry,
  MessageEntry,
  StartEntry,
  StopEntry,
  TickEntry,
} from "./entry.ts";
export type { Flag, NodePresence, PackTaken, Reading } from "./reading.ts";
export type { Emit, Stage } from "./stage.ts";
