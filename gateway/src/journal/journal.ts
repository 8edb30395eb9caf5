import type { Act } from "../acts/index.ts";
import type { PathChanges, SavedPath } from "../path/index.ts";
import type { Derivation, JournalEntry, WorldFact } from "../readings/index.ts";
import type { CheckpointCopy } from "./checkpoint-copy.ts";

/** An entry before the journal has given it `seq` and `receivedAt`. */
export type NewEntry =
  | { readonly kind: "message"; readonly topic: string; readonly payload: Uint8Array }
  | { readonly kind: "act"; readonly act: Act }
  | { readonly kind: "line"; readonly yaml: string }
  | { readonly kind: "tick" }
  | {
      readonly kind: "start";
      readonly version: string;
      readonly instance: string;
      readonly timeByWall?: boolean;
    }
  | { readonly kind: "stop" }
  | ({ readonly kind: "world" } & WorldFact)
  | ({ readonly kind: "derived" } & Derivation);

/** Names of what can go wrong with the journal. */
export type JournalErrorCode =
  | "journal-full"
  | "journal-failed"
  | "journal-closed"
  | "journal-newer"
  | "data-folder-in-use";

/** The journal could not do it; the message says where and what to do. */
export class JournalError extends Error {
  readonly code: JournalErrorCode;
  constructor(code: JournalErrorCode, message: string) {
    super(message);
    this.name = "JournalError";
    this.code = code;
  }
}

/** State of every stage after entry `seq`, as versions before rows wrote it. */
export interface Checkpoint {
  readonly seq: number;
  readonly version: string;
  readonly states: Readonly<Record<string, unknown>>;
}

/** Who waits for an entry to be on disk: told once, one way or the other. */
export interface EntryWaiter {
  stored(seq: number): void;
  /** It was not stored; a JournalError says why. */
  refused(error: Error): void;
}

/** The sequence of what came in. Entries come out through `onCommitted` in `seq` order, once a process. */
export interface Journal {
  /**
   * Takes one entry; resolves with its seq once it is on disk. `receivedAt` is the gateway's time unless given, and
   * never smaller than that of the entry before. Rejects with a JournalError.
   */
  append(entry: NewEntry, receivedAt?: number): Promise<number>;
  /** As `append`, and tells `waiter`: for what comes by the thousand. In `seq` order, before `onCommitted`. */
  appendFor(waiter: EntryWaiter, entry: NewEntry, receivedAt?: number): void;
  /** Entries and bytes that wait for the disk. */
  readonly waiting: { readonly entries: number; readonly bytes: number };
  onCommitted(listener: (entries: readonly JournalEntry[]) => void): void;
  /** What is stored from `fromSeq` (included), in order, in bounded batches. */
  read(fromSeq: number): AsyncIterable<readonly JournalEntry[]>;
  /** The first entry that is still there; 1 while nothing was let go. */
  readonly firstSeq: number;
  readonly lastSeq: number;
  readonly lastReceivedAt: number;
  /** Identity of this data folder, made at its first start. */
  readonly instance: string;
  /** Why nothing can be written now; null while all is well. The journal goes on trying. */
  readonly trouble: string | null;
  /** Why it will never be written again in this process; null while it can. What waited was rejected. */
  readonly ended: string | null;
  /** Why no checkpoint was written lately; null while they are. */
  readonly checkpointTrouble: string | null;
  /**
   * Copies what is not copied yet before it returns; writes them once `whenStored` has said that all outcomes up to `seq` are
   * stored. Gives false when they are not: the rows are then written with the next ones. What lies before the older of two checkpoints, and is older or
   * more than is kept, may go from then on.
   */
  saveCheckpoint(changes: PathChanges | CheckpointCopy, whenStored?: Promise<boolean>): Promise<boolean>;
  /** Bytes of rows that the last checkpoint wrote. */
  readonly checkpointBytes: number;
  /** Checkpoints that were written. */
  readonly checkpointCount: number;
  /** Before the path starts: numbers up to this one were given, so that no entry ever has one of them again. */
  passOver(seq: number): void;
  /**
   * The state in rows, or the whole checkpoint of an earlier version, up to entry `atMostSeq`; a later one is passed over,
   * for its copy or altogether. Null when there is none.
   */
  loadCheckpoint(atMostSeq?: number): Promise<SavedPath | Checkpoint | null>;
  /** Takes the saved state away, before the path starts: all that is still there is run again, into a store begun anew. */
  forgetCheckpoint(): void;
  /** Lets go of what is older than so much and before the older of two checkpoints, since the disk is short of space. */
  shorten(keepMs: number): void;
  close(): Promise<void>;
}
