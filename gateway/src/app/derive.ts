import type { Act } from "../acts/index.ts";
import {
  createFills,
  createFlowSources,
  createRuns,
  type Fill,
  type FillOutcome,
  type Learned,
  learn,
  nothingLearned,
} from "../fills/index.ts";
import type { Line } from "../line/index.ts";
import type { Logbook } from "../logbook/index.ts";
import { createCurrent, type Measurement, seriesOf } from "../measurements/index.ts";
import type { SeriesRow, SeriesStore } from "../series/index.ts";
import { deriveMeasurements } from "./history-driver.ts";

const dayMs = 86_400_000;
/** So long before and after the interval its fills are looked at too: a silence that long ends a fill. */
const quietMs = 20 * 60_000;
const rowsAtOnce = 5000;
/** Fills before the interval from which its drums have learned. */
const mostEarlier = 20;

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
  readonly line: Line;
  readonly series: Pick<SeriesStore, "range" | "names" | "write">;
  readonly logbook: Pick<Logbook, "fills" | "record" | "calibrations" | "actsOf">;
  /** Nothing is known of what comes after it: a fill that still ran then is the live path's. */
  readonly nowMs: number;
  /** True once the work is to be given up: what was written so far stays, and no fill is changed. */
  readonly isCancelled?: () => boolean;
}

const personActs = ["fill-started", "fill-stopped", "release"] as const;

/** Every act of a person on a drum, by time. */
function actsBetween(logbook: DeriveNeeds["logbook"], fromMs: number, toMs: number) {
  return personActs
    .flatMap((type) => logbook.actsOf(type, 1000))
    .filter(({ atMs }) => atMs >= fromMs && atMs < toMs)
    .map(({ act, atMs }): { readonly act: Act; readonly atMs: number } => ({ act, atMs }))
    .sort((a, b) => a.atMs - b.atMs);
}

/** What the fills before taught, as the live path learned it: from those that their float ended. */
function learnedFrom(earlier: readonly Fill[], drum: string): Learned {
  const learned = nothingLearned();
  const own = earlier.filter((fill) => fill.drum === drum && fill.end === "float-tripped" && !fill.withdrawn);
  for (const { tripAtL, litres, estimated, startedAtMs, endedAtMs } of own.slice(0, mostEarlier).reverse())
    learn(learned, tripAtL, estimated ? null : litres, (endedAtMs ?? startedAtMs) - startedAtMs);
  return learned;
}

/** The path from measurements to fills, in the order of events. */
function createFillFold(line: Line, earlier: readonly Fill[], take: (fill: Fill) => void) {
  const sources = createFlowSources();
  const [current, runs, fills] = [createCurrent(), createRuns(sources), createFills(sources)];
  runs.useLine(line);
  fills.useLine(line);
  for (const drum of line.drums) fills.useLearned(drum.id, learnedFrom(earlier, drum.id));
  const emit = (outcome: FillOutcome) => {
    if (outcome.kind === "fill" && outcome.endedAtMs !== null) take(outcome);
  };
  const told = (run: Parameters<typeof fills.run>[0]) => fills.run(run);

  function advance(toMs: number): void {
    for (;;) {
      const due = [current, runs, fills]
        .map((stage) => stage.nextDeadline())
        .filter((ms) => ms !== null)
        .sort((a, b) => a - b)[0];
      if (due === undefined || due > toMs) return;
      current.pass(due, (gone) => {
        runs.gone(gone, due, told);
        fills.gone(gone, due, emit);
      });
      runs.pass(due, told);
      fills.pass(due, emit);
    }
  }

  return {
    push(measurement: Measurement): void {
      advance(measurement.tMs);
      if (!current.take(measurement, measurement.tMs)) return;
      runs.push(measurement, measurement.tMs, told);
      fills.push(measurement, emit);
    },
    act(act: Act, atMs: number): void {
      advance(atMs);
      if (act.type !== "fill-started" && act.type !== "fill-stopped" && act.type !== "release") return;
      fills.act(act, atMs, emit);
      if (act.type !== "release") runs.said(act.drum, atMs, told);
    },
    end: (atMs: number) => advance(atMs),
  };
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

/**
 * Derives [fromMs, toMs) anew from the stored readings, with the calibrations and the line of now: measurements and
 * fills. Fills keep their ids and count their revisions; one that still runs is the live path's. Alarms are never rewritten.
 * Gives null when it was given up.
 */
export async function derive(
  { line, series, logbook, nowMs, isCancelled = () => false }: DeriveNeeds,
  fromMs: number,
  toMs: number,
): Promise<Derived | null> {
  const near = logbook
    .fills({ limit: 100_000, fromMs: fromMs - dayMs, beforeMs: toMs })
    .filter(({ endedAtMs }) => endedAtMs === null || endedAtMs >= fromMs);
  const known = near.filter(({ endedAtMs }) => endedAtMs !== null);
  const running = near.filter(({ endedAtMs }) => endedAtMs === null);
  const beginMs = Math.min(fromMs, ...known.map(({ startedAtMs }) => startedAtMs));
  const endMs = Math.max(toMs, ...known.map(({ endedAtMs }) => endedAtMs ?? 0));
  const found: Fill[] = [];
  const untilMs = Math.min(endMs + quietMs, nowMs);
  const earlier = line.drums.flatMap(({ id }) =>
    logbook.fills({ drum: id, limit: 2 * mostEarlier, beforeMs: beginMs }),
  );
  const fold = createFillFold(line, earlier, (fill) => found.push(fill));
  const acts = actsBetween(logbook, beginMs - quietMs, untilMs);
  let rows: SeriesRow[] = [];
  let measurements = 0;
  let replaced = 0;
  const write = async () => {
    if (rows.length > 0) replaced += (await series.write(rows)).replaced;
    rows = [];
  };
  const context = { line, calibrations: logbook.calibrations(), presences: [] };
  for await (const measurement of deriveMeasurements(series, context, beginMs - quietMs, untilMs)) {
    for (let next = acts[0]; next && next.atMs <= measurement.tMs; next = acts[0]) {
      fold.act(next.act, next.atMs);
      acts.shift();
    }
    fold.push(measurement);
    if (measurement.tMs < fromMs || measurement.tMs >= toMs) continue;
    measurements += 1;
    rows.push({
      series: seriesOf(measurement),
      tMs: measurement.tMs,
      value: measurement.value,
      flag: measurement.flag,
    });
    if (rows.length >= rowsAtOnce) {
      await write();
      if (isCancelled()) return null;
    }
  }
  await write();
  fold.end(untilMs);
  const inside = (fill: Fill) =>
    (fill.endedAtMs ?? 0) >= fromMs &&
    fill.startedAtMs < toMs &&
    !running.some((other) => other.drum === fill.drum && (fill.endedAtMs ?? 0) > other.startedAtMs);
  const { changed, counts } = matched(known, found.filter(inside));
  if (changed.length > 0) logbook.record(changed);
  const idsOf = (withdrawn: boolean) =>
    changed.filter((fill) => fill.withdrawn === withdrawn).map(({ id }) => id);
  return { measurements, replaced, fills: counts, records: idsOf(false), gone: idsOf(true) };
}
