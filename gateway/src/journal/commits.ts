import type { JournalEntry } from "../readings/index.ts";
import { type EntryWaiter, JournalError, type NewEntry } from "./journal.ts";
import { maxBatchEntries, type StoredEntry, storedParts } from "./wire.ts";

/** Bounds of what may wait for the disk. */
export interface CommitBounds {
  readonly maxWaitingEntries: number;
  readonly maxWaitingBytes: number;
  /** A write that failed is tried again after so long. */
  readonly retryMs: number;
}

/** An entry that waits for the disk, and who waits for it. */
export interface WaitingEntry extends StoredEntry {
  readonly entry: JournalEntry;
  readonly waiter: EntryWaiter;
}

/**
 * Group commit: while one batch is on its way to the disk, what comes in waits and is the next batch. Bounded; a batch
 * that the disk refuses stays in flight and is written again until it goes.
 */
export class Commits {
  private queue: WaitingEntry[] = [];
  private queuedBytes = 0;
  private inFlight: readonly WaitingEntry[] = [];
  private inFlightBytes = 0;
  private nextSeq: number;
  private retry: NodeJS.Timeout | null = null;
  private readonly bounds: CommitBounds;
  private readonly write: (entries: readonly StoredEntry[]) => void;

  constructor(bounds: CommitBounds, nextSeq: number, write: (entries: readonly StoredEntry[]) => void) {
    this.bounds = bounds;
    this.nextSeq = nextSeq;
    this.write = write;
  }

  /** What waits, in flight included. */
  get waiting(): { readonly entries: number; readonly bytes: number } {
    return {
      entries: this.queue.length + this.inFlight.length,
      bytes: this.queuedBytes + this.inFlightBytes,
    };
  }

  get isEmpty(): boolean {
    return this.queue.length === 0 && this.inFlight.length === 0;
  }

  /** No number up to this one is given any more. */
  passOver(seq: number): void {
    this.nextSeq = Math.max(this.nextSeq, seq + 1);
  }

  /** Gives the entry its number and queues it; above the bounds the waiter is refused with `journal-full`. */
  add(entry: NewEntry, receivedAt: () => number, waiter: EntryWaiter): void {
    const { kind, topic, payload } = storedParts(entry);
    const { maxWaitingEntries, maxWaitingBytes } = this.bounds;
    if (
      this.queue.length + this.inFlight.length >= maxWaitingEntries ||
      this.queuedBytes + this.inFlightBytes + payload.length > maxWaitingBytes
    ) {
      waiter.refused(new JournalError("journal-full", "Too much waits for the disk: send slower."));
      return;
    }
    const mark = { seq: this.nextSeq, receivedAt: receivedAt() };
    this.nextSeq += 1;
    this.queuedBytes += payload.length;
    const given: JournalEntry =
      entry.kind === "message"
        ? { ...mark, kind: "message", topic: entry.topic, payload }
        : { ...mark, ...entry };
    this.queue.push({ ...mark, kind, topic, payload, entry: given, waiter });
    // After the current burst of packets: they then share one commit.
    if (this.queue.length === 1 && this.inFlight.length === 0) setImmediate(() => this.next());
  }

  /** The batch in flight is on disk: gives its entries, and sends the next batch on its way. */
  written(): readonly WaitingEntry[] {
    const done = this.inFlight;
    this.inFlight = [];
    this.inFlightBytes = 0;
    this.next();
    return done;
  }

  /** The batch in flight is written again, after a pause or at once. */
  writeAgain(at: "after-a-pause" | "now"): void {
    if (at === "after-a-pause") {
      this.retry = setTimeout(() => this.send(), this.bounds.retryMs);
      return;
    }
    if (!this.retry) return;
    clearTimeout(this.retry);
    this.send();
  }

  /** All that waits is refused. */
  reject(error: Error): void {
    const lost = [...this.inFlight, ...this.queue];
    this.inFlight = [];
    this.queue = [];
    this.queuedBytes = 0;
    this.inFlightBytes = 0;
    if (this.retry) clearTimeout(this.retry);
    this.retry = null;
    for (const { waiter } of lost) waiter.refused(error);
  }

  private next(): void {
    if (this.inFlight.length > 0 || this.queue.length === 0) return;
    const batch = this.queue.length > maxBatchEntries ? this.queue.splice(0, maxBatchEntries) : this.queue;
    if (batch === this.queue) this.queue = [];
    this.inFlight = batch;
    this.inFlightBytes = batch.reduce((sum, { payload }) => sum + payload.length, 0);
    this.queuedBytes -= this.inFlightBytes;
    this.send();
  }

  private send(): void {
    this.retry = null;
    this.write(this.inFlight);
  }
}
