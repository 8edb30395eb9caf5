import type { Checkpoint, Journal } from "../journal/index.ts";
import type { Logbook, LogbookOutcome } from "../logbook/index.ts";
import { readingSeriesOf, seriesOf } from "../measurements/index.ts";
import type { JournalEntry } from "../readings/index.ts";
import type { SeriesRow, SeriesStore } from "../series/index.ts";
import { type Outcome, type Pipeline, type PipelineState, pipelineVersion } from "./pipeline.ts";

/** Rows that may wait for the series store before intake is held back. */
const mostWaitingRows = 400_000;

interface LiveDriverComponents {
  readonly pipeline: Pipeline;
  readonly journal: Pick<Journal, "saveCheckpoint">;
  readonly series: Pick<SeriesStore, "write">;
  readonly logbook: Pick<Logbook, "record">;
  /** Told every outcome at once, before it is stored: live state and stream. */
  readonly onOutcome: (outcome: Outcome, seq: number) => void;
  /** Told when an entry could not be run: a fault of a stage. What it gave before the fault is kept. */
  readonly onEntryFailure: (seq: number, error: Error) => void;
  /** Told when storing fails; the driver keeps the rows and tries again with the next batch. */
  readonly onStoreFailure: (error: Error) => void;
}

function rowOf(outcome: Outcome): SeriesRow | null {
  if (outcome.kind === "reading") {
    return {
      series: readingSeriesOf(outcome.channel, outcome.unit),
      tMs: outcome.tMs,
      value: outcome.value,
      flag: outcome.flag,
    };
  }
  if (outcome.kind === "measurement") {
    return { series: seriesOf(outcome), tMs: outcome.tMs, value: outcome.value, flag: outcome.flag };
  }
  return null;
}

function isForLogbook(outcome: Outcome): outcome is Outcome & LogbookOutcome {
  return (
    outcome.kind === "alarm" ||
    outcome.kind === "act-done" ||
    outcome.kind === "line" ||
    outcome.kind === "rejection"
  );
}

/**
 * Runs the path over the journal's entries in order and stores what comes out. Storing is "whatever queued
 * during the last write": logbook first, then series; a checkpoint is saved only once everything up to it is stored,
 * so an entry that runs twice after a crash writes the same rows again and nothing else.
 */
export function createLiveDriver(components: LiveDriverComponents) {
  const { pipeline, journal, series, logbook } = components;
  let rows: SeriesRow[] = [];
  let notes: LogbookOutcome[] = [];
  let takenSeq = 0;
  let storedRows = 0;
  let writingRows = 0;
  let writing: Promise<void> | null = null;
  const drained: (() => void)[] = [];

  async function writeAll(): Promise<void> {
    while (rows.length > 0 || notes.length > 0) {
      const [batch, log] = [rows, notes];
      rows = [];
      notes = [];
      writingRows = batch.length;
      try {
        if (log.length > 0) logbook.record(log);
        if (batch.length > 0) await series.write(batch);
        storedRows += batch.length;
      } catch (error) {
        rows = batch.concat(rows);
        notes = log.concat(notes);
        components.onStoreFailure(error instanceof Error ? error : new Error(String(error)));
        return;
      } finally {
        writingRows = 0;
      }
      for (const resolve of drained.splice(0)) resolve();
    }
  }

  function store(): Promise<void> {
    writing ??= writeAll().finally(() => {
      writing = null;
    });
    return writing;
  }

  function take(entry: JournalEntry): void {
    try {
      pipeline.push(entry, (outcome) => {
        components.onOutcome(outcome, entry.seq);
        const row = rowOf(outcome);
        if (row) rows.push(row);
        else if (isForLogbook(outcome)) notes.push(outcome);
      });
    } catch (error) {
      // The entry is on disk and would end every later start as well: it is passed over, counted and told.
      components.onEntryFailure(entry.seq, error instanceof Error ? error : new Error(String(error)));
    }
    takenSeq = entry.seq;
  }

  return {
    /** Takes committed entries, in order; what comes out is told at once and stored soon. */
    takeAll(entries: readonly JournalEntry[]): void {
      for (const entry of entries) if (entry.seq > takenSeq) take(entry);
      void store();
    },
    /** Resolves when everything taken so far is stored. */
    async flush(): Promise<void> {
      await store();
      if (rows.length > 0 || notes.length > 0) await store();
    },
    /** Resolves at once while few rows wait; else when the store has caught up: intake waits on it. */
    room(): Promise<void> | null {
      if (rows.length < mostWaitingRows) return null;
      return new Promise((resolve) => drained.push(resolve));
    },
    waitingRows: (): number => rows.length,
    takenSeq: (): number => takenSeq,
    /** Stores everything, and saves the state after the last entry taken. Throws when the series store is behind. */
    async checkpoint(): Promise<void> {
      const upToHere = storedRows + rows.length + writingRows;
      const saved = await journal.saveCheckpoint(
        { seq: takenSeq, version: pipelineVersion, states: { pipeline: pipeline.snapshot() } },
        this.flush().then(() => notes.length === 0 && storedRows >= upToHere),
      );
      if (!saved) throw new Error("The series store is behind: no checkpoint was saved.");
    },
    /** Goes on from a checkpoint of this version; gives the first seq to run, or 1 when it can't be used. */
    restore(checkpoint: Checkpoint | null): number {
      if (checkpoint === null || checkpoint.version !== pipelineVersion) return 1;
      pipeline.restore(checkpoint.states.pipeline as PipelineState);
      takenSeq = checkpoint.seq;
      return checkpoint.seq + 1;
    },
  };
}
