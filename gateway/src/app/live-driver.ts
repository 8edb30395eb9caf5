import type { Checkpoint, Journal } from "../journal/index.ts";
import { readingSeriesOf } from "../line/index.ts";
import { isRecorded, type Logbook, type LogbookOutcome } from "../logbook/index.ts";
import { seriesOf } from "../measurements/index.ts";
import type { Records, SavedPath } from "../path/index.ts";
import type { JournalEntry } from "../readings/index.ts";
import type { SeriesRow, SeriesStore } from "../series/index.ts";
import { createArrivals } from "./arrivals.ts";
import { type Calendar, createCalendar } from "./calendar.ts";
import { steadyMs } from "./host-time.ts";
import { entryInEngineTime, outcomeInCalendar } from "./in-calendar.ts";
import type { Outcome, Pipeline } from "./pipeline.ts";
import { savedPathOf } from "./saved-path.ts";

/** Rows that may wait for the series store, and entries that may wait for the path, before intake is held back. */
const mostWaitingRows = 400_000;
const mostWaitingEntries = 20_000;
/** So long the path runs without letting anything else have its turn. */
const sliceMs = 4;

interface LiveDriverComponents {
  readonly pipeline: Pipeline;
  readonly journal: Pick<Journal, "saveCheckpoint">;
  readonly series: Pick<SeriesStore, "write">;
  readonly logbook: Pick<Logbook, "record" | "sync">;
  /** The path runs in engine time; rows and log entries carry the calendar's. Without one the two are the same. */
  readonly calendar?: Calendar;
  /** Told every outcome at once, in engine time, before it is stored: live state and stream. */
  readonly onOutcome: (outcome: Outcome, seq: number) => void;
  /** Told when an entry could not be run: a fault of a stage. What it gave before the fault is kept. */
  readonly onEntryFailure: (seq: number, error: Error, entry: JournalEntry) => void;
  /** Told when storing fails; the driver keeps the rows and tries again with the next batch. */
  readonly onStoreFailure: (error: Error, store: "logbook" | "series") => void;
}

function rowOf(outcome: Outcome, calendar: Calendar): SeriesRow | null {
  if (outcome.kind !== "reading" && outcome.kind !== "measurement") return null;
  const series =
    outcome.kind === "reading" ? readingSeriesOf(outcome.channel, outcome.unit) : seriesOf(outcome);
  const { value, flag } = outcome;
  const row = { series, tMs: calendar.at(outcome.tMs), value, flag };
  return calendar.isShownAgain(outcome.tMs) ? { ...row, beside: true } : row;
}

/**
 * Runs the path over the journal's entries in order and stores what comes out. Storing is "whatever queued
 * during the last write": logbook first, then series; a checkpoint is saved only once everything up to it is stored,
 * so an entry that runs twice after a crash writes the same rows again and nothing else.
 */
export function createLiveDriver(components: LiveDriverComponents) {
  const { pipeline, journal, series, logbook, calendar = createCalendar() } = components;
  const arrivals = createArrivals();
  let rows: SeriesRow[] = [];
  let notes: LogbookOutcome[] = [];
  let takenSeq = 0;
  /** Batches that were taken to be written, and those that are stored; who waits for a batch to be stored. */
  let takenBatches = 0;
  let storedBatches = 0;
  let storing: { readonly upTo: number; readonly resolve: (stored: boolean) => void }[] = [];
  let writing: Promise<void> | null = null;
  const drained: (() => void)[] = [];
  let waiting: JournalEntry[] = [];
  let next = 0;
  let working = false;

  async function writeAll(): Promise<void> {
    while (rows.length > 0 || notes.length > 0) {
      const [batch, log] = [rows, notes];
      const failures: [store: "logbook" | "series", error: unknown][] = [];
      rows = [];
      notes = [];
      takenBatches += 1;
      try {
        if (log.length > 0) logbook.record(log);
      } catch (error) {
        failures.push(["logbook", error]);
        notes = log.concat(notes);
      }
      // One store that fails holds up nothing of the other.
      try {
        if (batch.length > 0) await series.write(batch);
      } catch (error) {
        failures.push(["series", error]);
        rows = batch.concat(rows);
      }
      if (failures.length > 0) {
        for (const [store, error] of failures)
          components.onStoreFailure(error instanceof Error ? error : new Error(String(error)), store);
        for (const { resolve } of storing.splice(0)) resolve(false);
        return;
      }
      storedBatches = takenBatches;
      answerStoring();
      letIn();
    }
  }

  function answerStoring(): void {
    const [done, left] = [storing.filter(({ upTo }) => upTo <= storedBatches), storing];
    storing = left.filter(({ upTo }) => upTo > storedBatches);
    for (const { resolve } of done) resolve(true);
  }

  /** Resolves when all that came out so far is stored; false when it could not be. */
  function whenStored(): Promise<boolean> {
    const isWaiting = rows.length > 0 || notes.length > 0;
    const upTo = takenBatches + (isWaiting ? 1 : 0);
    if (upTo <= storedBatches) return Promise.resolve(true);
    return new Promise((resolve) => {
      storing.push({ upTo, resolve });
      void store();
    });
  }

  const hasRoom = () =>
    rows.length < mostWaitingRows &&
    notes.length < mostWaitingRows &&
    waiting.length - next < mostWaitingEntries;

  function letIn(): void {
    if (hasRoom()) for (const resolve of drained.splice(0)) resolve();
  }

  function store(): Promise<void> {
    writing ??= writeAll().finally(() => {
      writing = null;
    });
    return writing;
  }

  function take(entry: JournalEntry): void {
    if (entry.kind === "start")
      notes.push({ kind: "start", seq: entry.seq, atMs: calendar.at(entry.receivedAt) });
    try {
      pipeline.push(entryInEngineTime(entry, calendar), (outcome) => {
        components.onOutcome(outcome, entry.seq);
        const row = rowOf(outcome, calendar);
        if (row) rows.push(row);
        const arrival =
          outcome.kind === "reading" ? arrivals.rowOf(outcome, entry.seq, pipeline.engineMs()) : null;
        if (arrival) rows.push({ ...arrival, tMs: calendar.at(arrival.tMs) });
        if (row) return;
        if (isRecorded(outcome)) {
          const act = entry.kind === "act" ? entry.act : null;
          notes.push(outcomeInCalendar(outcome, calendar.at, act) as LogbookOutcome);
        }
      });
    } catch (error) {
      // The entry is on disk and would end every later start as well: it is passed over, counted and told.
      components.onEntryFailure(entry.seq, error instanceof Error ? error : new Error(String(error)), entry);
    }
    takenSeq = entry.seq;
  }

  /** Runs waiting entries for a slice of time, or all of them. */
  function work(forMs: number): void {
    const begunMs = steadyMs();
    while (next < waiting.length) {
      const entry = waiting[next] as JournalEntry;
      next += 1;
      if (entry.seq > takenSeq) take(entry);
      // Looking at the clock costs as much as a small entry.
      if ((next & 15) === 0 && steadyMs() - begunMs > forMs) break;
    }
    if (next === waiting.length) {
      waiting = [];
      next = 0;
    }
    letIn();
    void store();
  }

  function workSoon(): void {
    if (working) return;
    working = true;
    setImmediate(() => {
      working = false;
      work(sliceMs);
      if (waiting.length > 0) workSoon();
    });
  }

  return {
    /** Takes committed entries, in order and now; what comes out is told at once and stored soon. */
    takeAll(entries: readonly JournalEntry[]): void {
      waiting.push(...entries);
      work(Number.POSITIVE_INFINITY);
    },
    /** Takes committed entries, in order and soon: in slices, so that acknowledging goes on meanwhile. */
    takeSoon(entries: readonly JournalEntry[]): void {
      waiting.push(...entries);
      workSoon();
    },
    /** Takes everything that was given so far, now. */
    catchUp: (): void => work(Number.POSITIVE_INFINITY),
    /** Resolves when everything given so far is taken and stored. */
    async flush(): Promise<void> {
      work(Number.POSITIVE_INFINITY);
      await store();
      if (rows.length > 0 || notes.length > 0) await store();
    },
    /** Resolves at once while few rows wait; else when the store has caught up: intake waits on it. */
    room(): Promise<void> | null {
      if (hasRoom()) return null;
      return new Promise((resolve) => drained.push(resolve));
    },
    waitingRows: (): number => rows.length,
    takenSeq: (): number => takenSeq,
    /** Saves the state after the last entry taken, once all up to it is stored. Throws when the stores are behind. */
    async checkpoint(): Promise<void> {
      const onDisk = whenStored().then((isStored) => {
        if (isStored) logbook.sync();
        return isStored;
      });
      const saved = await journal.saveCheckpoint(pipeline.changes(), onDisk);
      if (!saved) throw new Error("The series store is behind: no checkpoint was saved.");
    },
    /**
     * Goes on from a checkpoint, or from the logbook's records where there is none that can be read; gives the first
     * seq to run. With the journal's first entries still there and no checkpoint, everything is run again.
     */
    restore(checkpoint: SavedPath | Checkpoint | null, firstSeq: number, records: Records): number {
      const saved = checkpoint && savedPathOf(checkpoint);
      if (!saved && firstSeq <= 1) return 1;
      pipeline.resume(saved, records);
      takenSeq = saved?.seq ?? 0;
      return takenSeq + 1;
    },
  };
}
