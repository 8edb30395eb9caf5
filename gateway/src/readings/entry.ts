import type { Act } from "../acts/index.ts";
import type { Said } from "../words/index.ts";

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
  /** The time came from the machine's clock after another start of the machine: it may have leapt since the entry before. */
  readonly timeByWall?: boolean;
}
/** The gateway stopped in order. */
export interface StopEntry extends EntryBase {
  readonly kind: "stop";
}
/** What only the gateway sees of the world: its disk, its broker, a step of its clock. Written when it changes. */
export interface WorldFact {
  /** The part that saw it, such as "clock". */
  readonly part: string;
  /** What is told of, such as "offset-ms"; with `part` it names one fact. */
  readonly fact: string;
  /** How it is from now on; the unit stands in the fact's name. */
  readonly value: number | string | boolean | null;
}
/** An entry of the journal: a fact that only the gateway sees. */
export interface WorldEntry extends EntryBase, WorldFact {
  readonly kind: "world";
}
/** Water that a derivation judges to have been bad: the drum's word hears of it, and never of good water. */
export interface PastHold {
  readonly drum: string;
  /** When it was last judged so, calendar time, epoch ms. */
  readonly atMs: number;
  readonly because: readonly Said[];
}
/** A derivation of a part of the past came into force. */
export interface Derivation {
  /** Identity of the job: taken twice it changes nothing more. */
  readonly job: string;
  /** What it covers, calendar time, epoch ms: [fromMs, toMs). */
  readonly fromMs: number;
  readonly toMs: number;
  /** The last entry that it knew: what came later wins. */
  readonly asOfSeq: number;
  /** Ids of the records that it wrote anew or changed, and of those that it took back. */
  readonly records: readonly string[];
  readonly gone: readonly string[];
  /** Absent where an earlier version wrote it. */
  readonly holds?: readonly PastHold[];
}
/** An entry of the journal: a derivation comes into force. */
export interface DerivedEntry extends EntryBase, Derivation {
  readonly kind: "derived";
}
/** Any entry of the journal. */
export type JournalEntry =
  | MessageEntry
  | ActEntry
  | LineEntry
  | TickEntry
  | StartEntry
  | StopEntry
  | WorldEntry
  | DerivedEntry;
