import type { Act } from "../acts/index.ts";
import type { JournalEntry } from "../readings/index.ts";

/** An entry before the journal has given it `seq` and `receivedAt`. */
export type NewEntry =
  | { readonly kind: "message"; readonly topic: string; readonly payload: Uint8Array }
  | { readonly kind: "act"; readonly act: Act }
  | { readonly kind: "line"; readonly yaml: string }
  | { readonly kind: "tick" }
  | { readonly kind: "start"; readonly version: string; readonly instance: string }
  | { readonly kind: "stop" };

/** Named outcomes of appending. */
export type AppendFailure = {
  readonly code: "journal-full" | "journal-failed" | "journal-closed";
  readonly message: string;
};

/**
 * The sequence of what came in. `append` resolves after the entry is on disk (fsync), in order.
 * Entries come out through `onCommitted` in `seq` order, each exactly once per process.
 */
export interface Journal {
  /** Takes one entry; resolves with its seq once it is on disk. Rejects with a JournalError (code). */
  append(entry: NewEntry): Promise<number>;
  /** Bytes and entries waiting for the disk; intake withholds PUBACK above its bound. */
  readonly waiting: { readonly entries: number; readonly bytes: number };
  onCommitted(listener: (entries: readonly JournalEntry[]) => void): void;
  /** Reads what is stored from `fromSeq` (inclusive), in order, in bounded batches. */
  read(fromSeq: number): AsyncIterable<readonly JournalEntry[]>;
  readonly lastSeq: number;
  readonly lastReceivedAt: number;
  saveCheckpoint(checkpoint: Checkpoint): Promise<void>;
  loadCheckpoint(): Promise<Checkpoint | null>;
  close(): Promise<void>;
}

/** State of every stage after entry `seq`; `version` differs when a stage's state changed its shape. */
export interface Checkpoint {
  readonly seq: number;
  readonly version: string;
  readonly states: Readonly<Record<string, unknown>>;
}
