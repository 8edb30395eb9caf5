import { type Fill, reasonsOf } from "../fills/index.ts";
import type { Logbook } from "../logbook/index.ts";
import type { PastHold } from "../readings/index.ts";
import type { NamedRows, SeriesStaging, SeriesStore } from "../series/index.ts";
import { type Calendar, createCalendar } from "./calendar.ts";
import type { Interval } from "./history.ts";
import { type FillCounts, matchFills } from "./match-fills.ts";
import { type PastAsked, type PastRun, pastPieces } from "./past-pieces.ts";
import { quietStretch } from "./quiet-stretch.ts";
import { DerivedRecords, type RevisedBook } from "./revise-records.ts";

/** Put aside at once: each time the store unpacks the days that they lie in, to compare them with what stands. */
const rowsAtOnce = 20_000;

/** What a derivation changed. */
export interface Derived {
  readonly measurements: number;
  /** Rows of the series that are other than before. */
  readonly replaced: number;
  readonly fills: FillCounts;
  /** Ids of the fills that were revised or added, and of those that were withdrawn. */
  readonly records: readonly string[];
  readonly gone: readonly string[];
  /** Water that is judged to have been bad, of fills that are other than before. */
  readonly holds: readonly PastHold[];
}

/** The store as a derivation uses it: read, and written to where nobody looks until all of it stands. */
export type DerivedSeries = Pick<SeriesStore, "range" | "names"> & { readonly staging: SeriesStaging };

interface DeriveNeeds {
  readonly series: DerivedSeries;
  readonly logbook: RevisedBook &
    Pick<
      Logbook,
      | "fills"
      | "calibrations"
      | "lastLine"
      | "lastPresences"
      | "lastProofs"
      | "lastFills"
      | "lastWorks"
      | "pastEvents"
      | "actsOf"
      | "together"
      | "sync"
      | "derivations"
    >;
  readonly calendar?: Calendar;
  /** Nothing is known of what comes after it: a fill that still ran then is the live path's. */
  readonly nowMs: number;
  /** Jobs that it does, the first of them the one whose name it bears. */
  readonly jobs: readonly string[];
  /** Runs the past; left out: here, over these stores. */
  readonly run?: PastRun;
  /** Ends the run of the past at once. */
  readonly signal?: AbortSignal;
  /** True once the work is to be given up: nothing is changed then. */
  readonly isCancelled?: () => boolean;
  /** Told up to what time, calendar, its rows lie aside, again and again. */
  readonly onProgress?: (atMs: number) => void;
  /** Told before it comes into force: its journal entry is on disk when it resolves. */
  readonly announce: (derived: Derived) => Promise<unknown>;
}

/** Puts measurements aside in batches; counts them and those that another value stands for. */
class StagedRows {
  count = 0;
  replaced = 0;
  private pieces: NamedRows[] = [];
  private waiting = 0;
  private readonly job: string;
  private readonly staging: SeriesStaging;

  constructor(job: string, staging: SeriesStaging) {
    this.job = job;
    this.staging = staging;
  }

  /** True once a batch is full. */
  take(rows: NamedRows): boolean {
    if (rows.tMs.length === 0) return false;
    this.count += rows.tMs.length;
    this.waiting += rows.tMs.length;
    this.pieces.push(rows);
    return this.waiting >= rowsAtOnce;
  }

  async put(): Promise<void> {
    const { job, staging, pieces } = this;
    this.pieces = [];
    this.waiting = 0;
    if (pieces.length > 0) this.replaced += (await staging.stage(job, pieces)).replaced ?? 0;
  }
}

/** What a drum is to be held for by a fill that is other than before. */
function holdsOf(fill: Fill): readonly PastHold[] {
  const because = reasonsOf(fill).flatMap((reason) => (reason.code === "over-limit" ? [reason] : []));
  if (fill.withdrawn || fill.badAtMs == null || because.length === 0) return [];
  return [{ drum: fill.drum, atMs: fill.badAtMs, because }];
}

/** Runs it to its end; wherever it pauses everything else goes on. */
async function inTurns<Result>(work: Generator<undefined, Result>): Promise<Result> {
  for (;;) {
    const { done, value } = work.next();
    if (done) return value;
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/** Runs the stretch anew; its measurements of the interval lie aside then. Null when it was given up. */
async function stage(
  { isCancelled = () => false, onProgress = () => {}, ...needs }: DeriveNeeds,
  { asked, rows }: { readonly asked: PastAsked; readonly rows: StagedRows },
): Promise<DerivedRecords | null> {
  const { series, logbook, calendar = createCalendar() } = needs;
  const run = needs.run ?? pastPieces({ series, logbook, calendar });
  const records = new DerivedRecords();
  for await (const piece of run(asked, needs.signal)) {
    for (const record of piece.records) records.take(record);
    const lastMs = piece.rows.tMs.at(-1);
    if (rows.take(piece.rows)) {
      await rows.put();
      onProgress(lastMs as number);
    }
    if (isCancelled()) return null;
  }
  await rows.put();
  return records;
}

/**
 * Derives an interval (calendar time) anew from the stored readings, with the calibrations of now and the lines, acts,
 * presences and restarts of then: measurements, fills and words. Fills keep their ids and count their revisions; one
 * that still runs is the live path's. Alarms are never rewritten. What comes out lies aside until all of it is there,
 * and comes into force with the logbook's transaction: a crash before leaves everything as it was, one after it is
 * brought to its end by `finishDerivations`. Gives null when it was given up.
 */
export async function derive(needs: DeriveNeeds, interval: Interval): Promise<Derived | null> {
  const { series, logbook, nowMs, jobs, announce } = needs;
  const { staging } = series;
  const job = jobs[0] as string;
  const stretch = quietStretch(logbook, interval);
  const rows = new StagedRows(job, staging);
  let isInForce = false;
  try {
    // What an earlier try left.
    await staging.discard(job);
    const until = { fromMs: stretch.fromMs, toMs: Math.min(stretch.toMs, nowMs) };
    const records = await stage(needs, { asked: { stretch: until, interval }, rows });
    if (!records) return null;
    const running = stretch.fills.filter(({ endedAtMs }) => endedAtMs === null);
    const known = stretch.fills.filter(({ endedAtMs }) => endedAtMs !== null);
    const isInside = (fill: Fill) =>
      !running.some((other) => other.drum === fill.drum && (fill.endedAtMs ?? 0) > other.startedAtMs);
    const { changed, counts } = matchFills(known, records.fills.filter(isInside));
    const idsOf = (isGone: boolean) =>
      changed.filter(({ withdrawn }) => (withdrawn === true) === isGone).map(({ id }) => id);
    const derived = {
      measurements: rows.count,
      replaced: rows.replaced,
      fills: counts,
      records: idsOf(false),
      gone: idsOf(true),
      holds: changed.flatMap(holdsOf),
    };
    // Once it is in force, a power loss must take nothing of it.
    await staging.sync();
    const replace = await inTurns(records.replacing(logbook, until));
    await announce(derived);
    logbook.together(() => {
      if (changed.length > 0) logbook.record(changed);
      replace();
      logbook.derivations.done(jobs);
    });
    isInForce = true;
    await logbook.sync();
    await staging.publish(job);
    return derived;
  } finally {
    if (!isInForce) await staging.discard(job).catch(() => {});
  }
}

/** Brings to their end what a crash cut: what is in force is published, all else that lies aside goes. */
export async function finishDerivations(
  staging: SeriesStaging,
  { isDone }: Pick<Logbook["derivations"], "isDone">,
): Promise<void> {
  for (const job of await staging.staged()) await (isDone(job) ? staging.publish(job) : staging.discard(job));
}
