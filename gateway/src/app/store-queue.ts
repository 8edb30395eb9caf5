import type { Logbook, LogbookOutcome } from "../logbook/index.ts";

/** Log entries that may wait for the logbook before intake is held back. */
const maxWaitingNotes = 400_000;
/** A logbook that took nothing is tried again so much later, also where nothing more comes. */
const retryMs = 1000;

/** Where log entries go, and who is told when it does not take them. */
export interface StoreQueueOptions {
  readonly logbook: Pick<Logbook, "record">;
  /** Told when storing fails; the entries are kept and tried again with the next ones. */
  readonly onFailure: (error: Error) => void;
  /** The last entry of the journal whose outcomes were all added. */
  readonly takenSeq: () => number;
}

/** What the path gave for the logbook and it does not have yet. */
export class StoreQueue {
  private readonly options: StoreQueueOptions;
  private notes: LogbookOutcome[] = [];
  private again: NodeJS.Timeout | undefined;
  private isEnded = false;

  constructor(options: StoreQueueOptions) {
    this.options = options;
  }

  addNote(note: LogbookOutcome): void {
    this.notes.push(note);
  }

  get hasRoom(): boolean {
    return this.notes.length < maxWaitingNotes;
  }

  /** Writes what waits; false when the logbook does not take it. */
  store(): boolean {
    if (this.notes.length === 0) return true;
    const notes = this.notes;
    this.notes = [];
    try {
      this.options.logbook.record(notes, this.options.takenSeq());
      return true;
    } catch (error) {
      this.notes = notes.concat(this.notes);
      this.options.onFailure(error instanceof Error ? error : new Error(String(error)));
      this.tryAgain();
      return false;
    }
  }

  /** Nothing is tried again from now on. */
  end(): void {
    this.isEnded = true;
    clearTimeout(this.again);
  }

  private tryAgain(): void {
    if (this.isEnded || this.again !== undefined) return;
    this.again = setTimeout(() => {
      this.again = undefined;
      this.store();
    }, retryMs);
    this.again.unref();
  }
}
