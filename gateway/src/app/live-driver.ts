import { type Checkpoint, CheckpointCopy, type Journal } from "../journal/index.ts";
import { readingSeriesOf } from "../line/index.ts";
import { isRecorded, type Logbook, type LogbookOutcome } from "../logbook/index.ts";
import { type Measurement, seriesOf } from "../measurements/index.ts";
import type { Records, SavedPath } from "../path/index.ts";
import type { JournalEntry, Reading } from "../readings/index.ts";
import type { SeriesIntake, SeriesRow } from "../series/index.ts";
import { createArrivals } from "./arrivals.ts";
import { type Calendar, createCalendar } from "./calendar.ts";
import { steadyMs } from "./host-time.ts";
import { entryInEngineTime, outcomeInCalendar } from "./in-calendar.ts";
import type { Outcome, Pipeline } from "./pipeline.ts";
import { savedPathOf } from "./saved-path.ts";
import { StoreQueue } from "./store-queue.ts";

/** Entries that may wait for the path before intake is held back. */
const maxWaitingEntries = 4000;
/** … and bytes of their packs: 4,000 of the longest would be 250 MB. */
const maxWaitingBytes = 32 * 1024 * 1024;
/** So many that were taken may stay before those that wait: 16 MB of the longest. */
const maxTakenKept = 256;
/** So long the path runs without letting anything else have its turn; longer where nobody waits for an answer. */
const sliceMs = 1;
const longSliceMs = 50;
/** A turn in which rows are copied for a checkpoint: on a slow machine as long as on a quick one. */
const copySliceMs = 2;
/** Live work that waits longer is waited for by what is in no hurry, but not for ever: under a lasting load it goes on slowly. */
const calmWithinMs = 5;
const maxCalmWaitMs = 1000;

interface LiveDriverComponents {
  readonly pipeline: Pipeline;
  readonly journal: Pick<Journal, "saveCheckpoint">;
  readonly series: SeriesIntake;
  readonly logbook: Pick<Logbook, "record" | "sync">;
  /** The path runs in engine time; rows and log entries carry the calendar's. Without one the two are the same. */
  readonly calendar?: Calendar;
  /** Told every outcome at once, in engine time, before it is stored: live state and stream. */
  readonly onOutcome: (outcome: Outcome, seq: number) => void;
  /** Told when an entry could not be run: a fault of a stage. What it gave before the fault is kept. */
  readonly onEntryFailure: (seq: number, error: Error, entry: JournalEntry) => void;
  /** Told when storing fails; what waits is kept and tried again. */
  readonly onStoreFailure: (error: Error, store: "logbook" | "series") => void;
  /** Told when all that waited is stored. */
  readonly onStored?: () => void;
}

function rowOf(outcome: Reading | Measurement, series: string, calendar: Calendar): SeriesRow {
  const { value, flag } = outcome;
  const row = { series, tMs: calendar.at(outcome.tMs), value, flag };
  return calendar.isShownAgain(outcome.tMs) ? { ...row, beside: true } : row;
}

const bytesOf = (entry: JournalEntry): number => (entry.kind === "message" ? entry.payload.length : 0);

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/**
 * Runs the path over the journal's entries in order and stores what comes out. A checkpoint is saved only once
 * everything up to it is stored, so an entry that runs twice after a crash writes the same rows again and nothing else.
 */
export class LiveDriver {
  private readonly components: LiveDriverComponents;
  private readonly calendar: Calendar;
  private readonly arrivals = createArrivals();
  private readonly notes: StoreQueue;
  private readonly drained: (() => void)[] = [];
  private readonly waiting: JournalEntry[] = [];
  private nextIndex = 0;
  private waitingBytes = 0;
  /** When the first of what waits came, steady time. */
  private waitingSinceMs = 0;
  private isWorking = false;
  private lastTakenSeq = 0;
  /** Rows of a checkpoint that are being copied: nothing is run until all of them are. */
  private copying: CheckpointCopy | null = null;
  private copied = { longestTurnMs: 0, wholeMs: 0 };

  constructor(components: LiveDriverComponents) {
    this.components = components;
    this.calendar = components.calendar ?? createCalendar();
    this.notes = new StoreQueue({
      logbook: components.logbook,
      takenSeq: () => this.lastTakenSeq,
      onFailure: (error) => components.onStoreFailure(error, "logbook"),
    });
  }

  /** Takes committed entries, in order and now; what comes out is told at once and stored soon. */
  takeAll(entries: readonly JournalEntry[]): void {
    this.put(entries);
    this.work(Number.POSITIVE_INFINITY);
  }

  /** Takes committed entries, in order and soon: in slices, so that acknowledging goes on meanwhile. */
  takeSoon(entries: readonly JournalEntry[]): void {
    if (this.waiting.length === 0) this.waitingSinceMs = steadyMs();
    this.put(entries);
    this.workSoon();
  }

  /** Resolves when no entry waits for the path longer than 5 ms; after a second in any case. */
  async whenCalm(): Promise<void> {
    const untilMs = steadyMs() + maxCalmWaitMs;
    while (this.waiting.length > 0 && steadyMs() - this.waitingSinceMs > calmWithinMs && steadyMs() < untilMs)
      await new Promise((resolve) => setTimeout(resolve, calmWithinMs));
  }

  /** Takes everything that was given so far, now. */
  catchUp(): void {
    this.work(Number.POSITIVE_INFINITY);
  }

  /** Resolves when everything given so far is taken and stored. */
  async flush(): Promise<void> {
    const upTo = this.waiting.at(-1)?.seq ?? this.lastTakenSeq;
    // In slices: the stores take what came out meanwhile, and little has to be held.
    for (this.work(longSliceMs); this.lastTakenSeq < upTo; this.work(longSliceMs)) {
      await nextTurn();
      await this.components.series.whenRoom();
    }
    await this.storeAll();
  }

  /** Ends with its stores: what they did not take is in the journal, and is run again at the next start. */
  end(): void {
    this.notes.end();
  }

  /** Resolves at once while few rows wait; else when the store has caught up: intake waits on it. */
  room(): Promise<void> | null {
    if (this.hasRoom) return null;
    return new Promise((resolve) => {
      this.drained.push(resolve);
      void this.components.series.whenRoom().then(() => this.letIn());
    });
  }

  waitingRows(): number {
    return this.components.series.waiting;
  }

  takenSeq(): number {
    return this.lastTakenSeq;
  }

  /** How long the rows of the last checkpoint took to copy: its longest turn of this thread, and for how long the path waited. */
  lastCopy(): { readonly longestTurnMs: number; readonly wholeMs: number } {
    return this.copied;
  }

  /** Saves the state after the last entry taken, once all up to it is stored. Throws when the stores are behind. */
  async checkpoint(): Promise<void> {
    const { journal, logbook } = this.components;
    while (this.copying !== null) await nextTurn();
    const seq = this.lastTakenSeq;
    const onDisk = this.storeAll().then(async (isStored) => {
      if (isStored) await logbook.sync(seq);
      return isStored;
    });
    const copy = await this.copyInTurns();
    const saved = await journal.saveCheckpoint(copy, onDisk);
    if (!saved) throw new Error("The series store is behind: no checkpoint was saved.");
  }

  /** Copies what changed since the last checkpoint; between its turns everything but the path goes on. */
  private async copyInTurns(): Promise<CheckpointCopy> {
    const copy = new CheckpointCopy(this.components.pipeline.changesInTurns());
    const beganMs = steadyMs();
    let longestTurnMs = 0;
    this.copying = copy;
    try {
      for (let isMore = true; isMore; ) {
        const turnMs = steadyMs();
        isMore = copy.copySome(() => steadyMs() - turnMs > copySliceMs);
        longestTurnMs = Math.max(longestTurnMs, steadyMs() - turnMs);
        if (isMore) await nextTurn();
      }
    } finally {
      this.copying = null;
    }
    this.copied = { longestTurnMs, wholeMs: steadyMs() - beganMs };
    if (this.waiting.length > 0) this.workSoon();
    return copy;
  }

  /** Resolves when all that came out so far is stored, the series on disk; false when it could not be. */
  private async storeAll(): Promise<boolean> {
    const isNoted = this.notes.store();
    try {
      await this.components.series.sync();
    } catch (error) {
      this.components.onStoreFailure(error instanceof Error ? error : new Error(String(error)), "series");
      return false;
    }
    if (isNoted) this.components.onStored?.();
    this.letIn();
    return isNoted;
  }

  /**
   * Goes on from a checkpoint, or from the logbook's records where there is none that can be read; gives the first
   * seq to run. With the journal's first entries still there and no checkpoint, everything is run again.
   */
  restore(checkpoint: SavedPath | Checkpoint | null, firstSeq: number, records: Records): number {
    const saved = checkpoint && savedPathOf(checkpoint);
    if (!saved && firstSeq <= 1) return 1;
    this.components.pipeline.resume(saved, records);
    this.lastTakenSeq = saved?.seq ?? 0;
    return this.lastTakenSeq + 1;
  }

  private put(entries: readonly JournalEntry[]): void {
    for (const entry of entries) {
      this.waiting.push(entry);
      this.waitingBytes += bytesOf(entry);
    }
  }

  /** Whether what comes may still wait for the path and its stores; while not, intake is held back. */
  get hasRoom(): boolean {
    return (
      this.notes.hasRoom &&
      this.components.series.hasRoom &&
      this.waiting.length - this.nextIndex < maxWaitingEntries &&
      this.waitingBytes < maxWaitingBytes
    );
  }

  private letIn(): void {
    if (this.hasRoom) for (const resolve of this.drained.splice(0)) resolve();
  }

  private take(entry: JournalEntry): void {
    const { calendar, components, notes } = this;
    components.series.begin(entry.seq);
    if (entry.kind === "start")
      notes.addNote({ kind: "start", seq: entry.seq, atMs: calendar.at(entry.receivedAt) });
    try {
      components.pipeline.push(entryInEngineTime(entry, calendar), (outcome) => {
        components.onOutcome(outcome, entry.seq);
        this.keep(outcome, entry);
      });
    } catch (error) {
      // The entry is on disk and would end every later start as well: it is passed over, counted and told.
      components.onEntryFailure(entry.seq, error instanceof Error ? error : new Error(String(error)), entry);
    }
    this.lastTakenSeq = entry.seq;
  }

  private keep(outcome: Outcome, entry: JournalEntry): void {
    const { calendar, notes } = this;
    const { series, pipeline } = this.components;
    // Nearly all that comes out is one of these.
    if (outcome.kind === "current") return;
    if (outcome.kind === "measurement") series.add(rowOf(outcome, seriesOf(outcome), calendar));
    else if (outcome.kind === "reading") {
      series.add(rowOf(outcome, readingSeriesOf(outcome.channel, outcome.unit), calendar));
      const arrival = this.arrivals.rowOf(outcome, entry.seq, pipeline.engineMs());
      if (arrival) series.add({ ...arrival, tMs: calendar.at(arrival.tMs) });
    } else if (isRecorded(outcome)) {
      const act = entry.kind === "act" ? entry.act : null;
      notes.addNote(outcomeInCalendar(outcome, calendar.at, act) as LogbookOutcome);
    }
  }

  /** Runs waiting entries for a slice of time, or all of them. */
  private work(forMs: number): void {
    if (this.copying !== null && Number.isFinite(forMs)) return;
    this.copying?.copyAll();
    const begunMs = steadyMs();
    while (this.nextIndex < this.waiting.length) {
      const entry = this.waiting[this.nextIndex] as JournalEntry;
      this.nextIndex += 1;
      this.waitingBytes -= bytesOf(entry);
      if (entry.seq > this.lastTakenSeq) this.take(entry);
      // Looking at the clock costs as much as a small entry.
      if ((this.nextIndex & 15) === 0 && steadyMs() - begunMs > forMs) break;
    }
    // Not only once none waits: under a lasting load some always do, and all that ever came would stay. Nor at each
    // slice, which takes some thirty: what waits behind them, up to 4,000, would be moved for each of them.
    if (this.nextIndex === this.waiting.length || this.nextIndex >= maxTakenKept) {
      this.waiting.splice(0, this.nextIndex);
      this.nextIndex = 0;
    }
    this.letIn();
    this.notes.store();
  }

  private workSoon(): void {
    if (this.isWorking) return;
    this.isWorking = true;
    setImmediate(() => {
      this.isWorking = false;
      this.work(sliceMs);
      if (this.waiting.length > 0) this.workSoon();
    });
  }
}
