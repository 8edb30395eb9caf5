import type { Batch, DrumWater, Fill } from "../fills/index.ts";
import type { Logbook } from "../logbook/index.ts";
import { channelOfReadingSeries, type Measurement, seriesOf } from "../measurements/index.ts";
import type { Seen } from "../nights/index.ts";
import type { SeriesRow, SeriesStore } from "../series/index.ts";
import { type Calendar, createCalendar } from "./calendar.ts";
import { type Interval, runHistory } from "./history.ts";
import { outcomeInCalendar } from "./in-calendar.ts";
import { pastLine } from "./past-line.ts";
import { pastRecords } from "./past-records.ts";

const dayMs = 86_400_000;
/** A stretch begins and ends where no fill is so near: what comes out then hangs on nothing outside. */
const quietMs = 20 * 60_000;
/** At most so much is added on either side until it is quiet. */
const maxAddedMs = 7 * dayMs;
const rowsAtOnce = 5000;
const maxFills = 100_000;

/** What a derivation changed. */
export interface Derived {
  readonly measurements: number;
  /** Rows of the series that are other than before. */
  readonly replaced: number;
  readonly fills: {
    readonly same: number;
    readonly revised: number;
    readonly added: number;
    readonly withdrawn: number;
  };
  /** Ids of the fills that were revised or added, and of those that were withdrawn. */
  readonly records: readonly string[];
  readonly gone: readonly string[];
}

interface DeriveNeeds {
  readonly series: Pick<SeriesStore, "range" | "names" | "write">;
  readonly logbook: Pick<
    Logbook,
    | "fills"
    | "record"
    | "calibrations"
    | "lastLine"
    | "lastPresences"
    | "lastProofs"
    | "lastWords"
    | "lastFills"
    | "pastEvents"
    | "lastBatches"
    | "replaceBatches"
    | "actsOf"
    | "replaceWords"
    | "replaceSeen"
  >;
  readonly calendar?: Calendar;
  /** Nothing is known of what comes after it: a fill that still ran then is the live path's. */
  readonly nowMs: number;
  /** True once the work is to be given up: what was written so far stays, and no fill is changed. */
  readonly isCancelled?: () => boolean;
}

function overlapMs(a: Fill, b: Fill): number {
  return Math.min(a.endedAtMs ?? 0, b.endedAtMs ?? 0) - Math.max(a.startedAtMs, b.startedAtMs);
}

const plain = ({ id: _id, revision: _revision, withdrawn: _withdrawn, ...rest }: Fill) =>
  JSON.stringify(rest);

/** Gives each derived fill the id of the old one that it overlaps most; what no longer comes out is withdrawn. */
function matched(
  old: readonly Fill[],
  derived: readonly Fill[],
): { readonly changed: Fill[]; readonly counts: Derived["fills"] } {
  const left = new Set(old);
  const changed: Fill[] = [];
  const counts = { same: 0, revised: 0, added: 0, withdrawn: 0 };
  for (const fill of derived) {
    let best: Fill | null = null;
    for (const other of left) {
      if (other.drum !== fill.drum || overlapMs(other, fill) <= 0) continue;
      if (!best || overlapMs(other, fill) > overlapMs(best, fill)) best = other;
    }
    if (!best) {
      counts.added += 1;
      changed.push({ ...fill, revision: 1 });
      continue;
    }
    left.delete(best);
    if (plain(best) === plain(fill) && !best.withdrawn) counts.same += 1;
    else {
      counts.revised += 1;
      changed.push({ ...fill, id: best.id, revision: best.revision + 1 });
    }
  }
  for (const gone of left) {
    if (gone.withdrawn) continue;
    counts.withdrawn += 1;
    changed.push({ ...gone, withdrawn: true, revision: gone.revision + 1 });
  }
  return { changed, counts };
}

/** The stretch round [fromMs, toMs) that begins and ends where no fill is near, and the fills in it. */
function quietStretch(
  logbook: Pick<Logbook, "fills">,
  { fromMs, toMs }: Interval,
): Interval & { readonly fills: readonly Fill[] } {
  const [leastMs, mostMs] = [fromMs - maxAddedMs, toMs + maxAddedMs];
  const all = logbook.fills({ limit: maxFills, fromMs: leastMs - dayMs, beforeMs: mostMs });
  let [beginMs, endMs] = [fromMs, toMs];
  for (;;) {
    const near = all.filter(
      ({ startedAtMs, endedAtMs }) =>
        startedAtMs < endMs + quietMs && (endedAtMs ?? Number.POSITIVE_INFINITY) > beginMs - quietMs,
    );
    const begin = Math.max(leastMs, Math.min(beginMs, ...near.map(({ startedAtMs }) => startedAtMs)));
    const end = Math.min(mostMs, Math.max(endMs, ...near.map(({ endedAtMs }) => endedAtMs ?? 0)));
    if (begin === beginMs && end === endMs)
      return { fromMs: beginMs - quietMs, toMs: endMs + quietMs, fills: near };
    [beginMs, endMs] = [begin, end];
  }
}

/** Puts the derived words in place of those of the stretch, up to each drum's last word: that one is the live path's. */
function reviseWords(
  logbook: DeriveNeeds["logbook"],
  { fromMs, toMs }: Interval,
  words: readonly DrumWater[],
): void {
  for (const { drum, atMs } of logbook.lastWords()) {
    const untilMs = Math.min(toMs, atMs);
    const own = words.filter((word) => word.drum === drum && word.atMs >= fromMs && word.atMs < untilMs);
    if (own.length > 0) logbook.replaceWords(fromMs, untilMs, own);
  }
}

/** The same for the turns of batches. */
function reviseBatches(
  logbook: DeriveNeeds["logbook"],
  { fromMs, toMs }: Interval,
  batches: readonly Batch[],
): void {
  for (const { drum, atMs } of logbook.lastBatches()) {
    const untilMs = Math.min(toMs, atMs);
    const own = batches.filter((one) => one.drum === drum && one.atMs >= fromMs && one.atMs < untilMs);
    if (own.length > 0) logbook.replaceBatches(fromMs, untilMs, own);
  }
}

const beganMs = (seen: Seen) => (seen.kind === "float-change" ? seen.atMs : seen.fromMs);

/** Puts what was seen anew in place of what was seen in the stretch; a gap that goes on at its end is the live path's. */
function reviseSeen(
  logbook: DeriveNeeds["logbook"],
  { fromMs, toMs }: Interval,
  seen: readonly Seen[],
): void {
  const own = seen.filter(
    (one) => beganMs(one) >= fromMs && beganMs(one) < toMs && !(one.kind === "gap" && one.toMs === null),
  );
  logbook.replaceSeen(fromMs, toMs, own);
}

/** Writes measurements in batches; counts them and those that replaced another. */
class Rewriting {
  count = 0;
  replaced = 0;
  private rows: SeriesRow[] = [];
  private readonly series: Pick<SeriesStore, "write">;

  constructor(series: Pick<SeriesStore, "write">) {
    this.series = series;
  }

  /** True once a batch is full. */
  take(measurement: Measurement): boolean {
    const { tMs, value, flag } = measurement;
    this.count += 1;
    this.rows.push({ series: seriesOf(measurement), tMs, value, flag });
    return this.rows.length >= rowsAtOnce;
  }

  async write(): Promise<void> {
    if (this.rows.length > 0) this.replaced += (await this.series.write(this.rows)).replaced ?? 0;
    this.rows = [];
  }
}

/**
 * Derives [fromMs, toMs) (calendar time) anew from the stored readings, with the calibrations of now and the lines,
 * acts, presences and restarts of then: measurements, fills and words. Fills keep their ids and count their revisions;
 * one that still runs is the live path's. Alarms are never rewritten. Gives null when it was given up.
 */
export async function derive(
  { series, logbook, nowMs, calendar = createCalendar(), isCancelled = () => false }: DeriveNeeds,
  fromMs: number,
  toMs: number,
): Promise<Derived | null> {
  const stretch = quietStretch(logbook, { fromMs, toMs });
  const today = logbook.lastLine();
  const heard = new Set((await series.names()).map((name) => channelOfReadingSeries(name)?.channel));
  const found: Fill[] = [];
  const words: DrumWater[] = [];
  const batches: Batch[] = [];
  const seen: Seen[] = [];
  const rewriting = new Rewriting(series);
  const outcomes = runHistory(
    {
      series,
      records: pastRecords(logbook, calendar),
      readLine: (yaml) => pastLine(yaml, today, (channel) => heard.has(channel)),
    },
    {
      fromMs: calendar.engineOf(stretch.fromMs),
      toMs: calendar.engineOf(Math.min(stretch.toMs, nowMs)),
    },
  );
  for await (const some of outcomes)
    for (const outcome of some) {
      const shown = outcomeInCalendar(outcome, calendar.at, null);
      if (shown.kind === "fill" && shown.endedAtMs !== null) found.push(shown);
      else if (shown.kind === "drum-water") words.push(shown);
      else if (shown.kind === "batch") batches.push(shown);
      else if (shown.kind === "gap" || shown.kind === "draw" || shown.kind === "float-change")
        seen.push(shown);
      if (shown.kind !== "measurement" || shown.tMs < fromMs || shown.tMs >= toMs) continue;
      if (!rewriting.take(shown)) continue;
      await rewriting.write();
      if (isCancelled()) return null;
    }
  await rewriting.write();
  const running = stretch.fills.filter(({ endedAtMs }) => endedAtMs === null);
  const known = stretch.fills.filter(({ endedAtMs }) => endedAtMs !== null);
  const isInside = (fill: Fill) =>
    !running.some((other) => other.drum === fill.drum && (fill.endedAtMs ?? 0) > other.startedAtMs);
  const { changed, counts } = matched(known, found.filter(isInside));
  if (changed.length > 0) logbook.record(changed);
  reviseWords(logbook, stretch, words);
  reviseBatches(logbook, stretch, batches);
  reviseSeen(logbook, { fromMs: stretch.fromMs, toMs: Math.min(stretch.toMs, nowMs) }, seen);
  const idsOf = (withdrawn: boolean) =>
    changed.filter((fill) => (fill.withdrawn === true) === withdrawn).map(({ id }) => id);
  return {
    measurements: rewriting.count,
    replaced: rewriting.replaced,
    fills: counts,
    records: idsOf(false),
    gone: idsOf(true),
  };
}
