import type { Line } from "../line/index.ts";
import { aliveMs, channelOfReadingSeries, lifeMs } from "../measurements/index.ts";
import {
  type AnyStage,
  Composer,
  type PathEntry,
  type PathEvent,
  type Records,
  SavedRows,
} from "../path/index.ts";
import { byTimeThenTemperature, nodeCell, type Reading } from "../readings/index.ts";
import type { SeriesStore } from "../series/index.ts";
import { type Arrival, compareOrders, orderOf, takenLate } from "./arrivals.ts";
import { type PastPack, pastPacks } from "./past-readings.ts";
import { createHistoryStages } from "./path.ts";
import type { Outcome } from "./pipeline.ts";

/** What was read so long before the interval can matter inside it: proofs of life, temperatures, spikes. */
const warmUpMs = aliveMs + 180_000;
/** About so many outcomes are handed on at once: what more of them would outlive the collector's next round costs as much again. */
const outcomesAtOnce = 128;

/** What the logbook knows of the past, in engine time. */
export interface PastRecords {
  /** Acts that were taken, lines, starts and presences of [fromMs, toMs), in their order. */
  between(fromMs: number, toMs: number): readonly (PathEntry | PastPresence)[];
  /** What stages begin with at a time. */
  before(ms: number): Records;
}

/** A presence as it was recorded: heard by the stages, not an entry of its own. */
export type PastPresence = PathEvent & {
  readonly kind: "presence";
  readonly seq: number;
  readonly receivedAt: number;
};

/** The interval, in engine time. */
export interface Interval {
  readonly fromMs: number;
  readonly toMs: number;
}

interface HistoryNeeds {
  readonly series: Pick<SeriesStore, "range" | "names">;
  readonly records: PastRecords;
  /** Reads a line's text as it is meant for that time; null when it can't be read. */
  readonly readLine: (yaml: string) => Line | null;
  /** What the stored readings run through; left out, what a derivation rewrites. */
  readonly stages?: readonly AnyStage[];
}

/** Entries were taken in the order of their numbers; a calibration is in force from its own time on. */
function isBefore(entry: PathEntry | PastPresence, { engineMs, order }: Arrival): boolean {
  if (entry.receivedAt !== engineMs) return entry.receivedAt < engineMs;
  const isInForce = "act" in entry && entry.act?.type === "calibration";
  return isInForce || compareOrders(orderOf(entry.seq), order) < 0;
}

/** A run of the path's stages over stored readings, from `begin` of one part of the list to its end. */
class HistoryRun {
  private readonly composer: Composer;
  private readonly emit: (outcome: PathEvent) => void;
  private readonly entries: readonly (PathEntry | PastPresence)[];
  private index = 0;
  /** What came in together, and when it was taken; null: nothing. */
  private step: readonly Reading[] = [];
  private at: Arrival | null = null;

  constructor(
    composer: Composer,
    entries: readonly (PathEntry | PastPresence)[],
    emit: (outcome: PathEvent) => void,
  ) {
    this.composer = composer;
    this.entries = entries;
    this.emit = emit;
  }

  take(next: PastPack): void {
    const { at, step } = this;
    const isSameStep =
      at !== null &&
      at.engineMs === next.at.engineMs &&
      at.order === next.at.order &&
      step[0]?.tMs === next.readings[0]?.tMs;
    if (isSameStep) {
      this.step = [...step, ...next.readings].sort(byTimeThenTemperature);
      return;
    }
    this.endStep();
    this.takeEntries(next.at);
    this.at = next.at;
    this.step = next.readings;
  }

  /** Feeds what is left, and lets time go on to the end. */
  end(toMs: number): void {
    this.endStep();
    this.takeEntries(takenLate(toMs));
    this.composer.pass(toMs, this.emit);
  }

  private endStep(): void {
    if (this.at === null) return;
    this.composer.feed(this.step, { seq: 0, receivedAt: this.at.engineMs }, this.emit);
    this.at = null;
    this.step = [];
  }

  /** Acts, lines, starts and presences that were taken before what was read. */
  private takeEntries(at: Arrival): void {
    for (let entry = this.entries[this.index]; entry !== undefined; entry = this.entries[this.index]) {
      if (!isBefore(entry, at)) return;
      this.index += 1;
      if (entry.kind === "presence") this.composer.feed([entry], entry, this.emit);
      else this.composer.push(entry, this.emit);
    }
  }
}

async function warmedUp(needs: HistoryNeeds, names: readonly string[], fromMs: number): Promise<SavedRows> {
  const { records, series } = needs;
  const beginMs = fromMs - warmUpMs;
  const composer = new Composer({ stages: createHistoryStages().measuring, readLine: needs.readLine });
  composer.restore(null, records.before(beginMs));
  const run = new HistoryRun(composer, records.between(beginMs, fromMs), () => {});
  const lifeOf = (node: string) => lifeMs(composer.board.get(nodeCell, node));
  for (const name of names) {
    // That a probe ever told is remembered for ever: of each channel one reading from before.
    for await (const [past] of pastPacks(series, [name], { fromMs: 0, toMs: beginMs, lifeOf })) {
      if (past) run.take({ ...past, readings: past.readings.slice(0, 1) });
      break;
    }
  }
  for await (const some of pastPacks(series, names, { fromMs: beginMs, toMs: fromMs, lifeOf }))
    for (const past of some) run.take(past);
  run.end(fromMs);
  const saved = new SavedRows();
  saved.apply(composer.changes());
  return saved;
}

/**
 * Runs the path's list over the stored readings of an interval, with the lines, acts, calibrations, presences and
 * restarts of that time, in the order in which the live path took them; gives what comes out, in engine time. Where
 * nothing came late it is what the live path gave.
 */
export async function* runHistory(
  needs: HistoryNeeds,
  { fromMs, toMs }: Interval,
): AsyncGenerator<readonly Outcome[]> {
  const { records, series } = needs;
  const names = (await series.names()).filter((name) => channelOfReadingSeries(name) !== null);
  const composer = new Composer({
    stages: needs.stages ?? createHistoryStages().all,
    readLine: needs.readLine,
  });
  composer.restore(await warmedUp(needs, names, fromMs), records.before(fromMs));
  let out: Outcome[] = [];
  const run = new HistoryRun(composer, records.between(fromMs, toMs), (outcome) => {
    // What went in, and which of it is newest, nobody asks for: more than half of all.
    if (outcome.kind !== "reading" && outcome.kind !== "current") out.push(outcome as Outcome);
  });
  const lifeOf = (node: string) => lifeMs(composer.board.get(nodeCell, node));
  for await (const some of pastPacks(series, names, { fromMs, toMs, lifeOf }))
    for (const past of some) {
      run.take(past);
      if (out.length < outcomesAtOnce) continue;
      yield out;
      out = [];
    }
  run.end(toMs);
  if (out.length > 0) yield out;
}
