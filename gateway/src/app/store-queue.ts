import type { Logbook, LogbookOutcome } from "../logbook/index.ts";
import type { SeriesRow, SeriesStore } from "../series/index.ts";

/** Rows and log entries that may wait for their stores before intake is held back, each. */
const maxWaitingRows = 400_000;
/** A store that took nothing is tried again so much later, also where nothing more comes. */
const retryMs = 1000;

/** Where rows and log entries go, and who is told when a store does not take them. */
export interface StoreQueueOptions {
  readonly series: Pick<SeriesStore, "write">;
  readonly logbook: Pick<Logbook, "record">;
  /** Told when storing fails; the rows are kept and tried again with the next batch. */
  readonly onFailure: (error: Error, store: "logbook" | "series") => void;
  /** The last entry of the journal whose outcomes were all added. */
  readonly takenSeq: () => number;
  /** Told when a batch was stored. */
  readonly onStored: () => void;
}

/** What the path gave and no store has yet. Storing is "whatever queued during the last write": logbook first, then series. */
export class StoreQueue {
  private readonly options: StoreQueueOptions;
  private rows: SeriesRow[] = [];
  private notes: LogbookOutcome[] = [];
  /** Batches that were taken to be written, and those that are stored; who waits for a batch to be stored. */
  private takenBatches = 0;
  private storedBatches = 0;
  private waiting: { readonly upTo: number; readonly resolve: (stored: boolean) => void }[] = [];
  private writing: Promise<void> | null = null;

  constructor(options: StoreQueueOptions) {
    this.options = options;
  }

  addRow(row: SeriesRow): void {
    this.rows.push(row);
  }

  addNote(note: LogbookOutcome): void {
    this.notes.push(note);
  }

  get waitingRows(): number {
    return this.rows.length;
  }

  get isEmpty(): boolean {
    return this.rows.length === 0 && this.notes.length === 0;
  }

  get hasRoom(): boolean {
    return this.rows.length < maxWaitingRows && this.notes.length < maxWaitingRows;
  }

  /** Writes what waits, in batches, until nothing does or a store fails. */
  store(): Promise<void> {
    this.writing ??= this.writeAll().finally(() => {
      this.writing = null;
    });
    return this.writing;
  }

  /** Resolves when all that was added so far is stored; false when it could not be. */
  whenStored(): Promise<boolean> {
    const upTo = this.takenBatches + (this.isEmpty ? 0 : 1);
    if (upTo <= this.storedBatches) return Promise.resolve(true);
    return new Promise((resolve) => {
      this.waiting.push({ upTo, resolve });
      void this.store();
    });
  }

  private async writeAll(): Promise<void> {
    while (!this.isEmpty) {
      const failures = await this.writeBatch();
      if (failures.length > 0) {
        for (const [store, error] of failures)
          this.options.onFailure(error instanceof Error ? error : new Error(String(error)), store);
        for (const { resolve } of this.waiting.splice(0)) resolve(false);
        setTimeout(() => void this.store(), retryMs).unref();
        return;
      }
      this.storedBatches = this.takenBatches;
      this.answer();
      this.options.onStored();
    }
  }

  /** One store that fails holds up nothing of the other. */
  private async writeBatch(): Promise<readonly [store: "logbook" | "series", error: unknown][]> {
    const { series, logbook, takenSeq } = this.options;
    const [batch, log] = [this.rows, this.notes];
    const failures: [store: "logbook" | "series", error: unknown][] = [];
    this.rows = [];
    this.notes = [];
    this.takenBatches += 1;
    try {
      if (log.length > 0) logbook.record(log, takenSeq());
    } catch (error) {
      failures.push(["logbook", error]);
      this.notes = log.concat(this.notes);
    }
    try {
      if (batch.length > 0) await series.write(batch);
    } catch (error) {
      failures.push(["series", error]);
      this.rows = batch.concat(this.rows);
    }
    return failures;
  }

  private answer(): void {
    const done = this.waiting.filter(({ upTo }) => upTo <= this.storedBatches);
    this.waiting = this.waiting.filter(({ upTo }) => upTo > this.storedBatches);
    for (const { resolve } of done) resolve(true);
  }
}
