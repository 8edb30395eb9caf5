import type { OwedRange, SeriesBatch } from "../batch-log.ts";
import { beginOf, dayMs } from "../rollups.ts";

/**
 * How long a write without an answer may still come to be stored, ms. Linux goes on for some 100 s with what a closed connection
 * has not delivered (tcp(7), `tcp_orphan_retries`), proxies usually wait 60 s, InfluxDB 10 s: common practice, no source.
 */
export const inDoubtMs = 300_000;

interface Doubt extends OwedRange {
  readonly untilMs: number;
}

/** Rows [from, to) of a batch as stretches, one for each day of each series. */
export function stretchesOf(batch: Omit<SeriesBatch, "id">, from: number, to: number): OwedRange[] {
  const { names, series, tMs } = batch;
  // Before each write, on the thread that all else waits for: numbers only, while a series stays within a day.
  const [first, last] = [
    names.map(() => Number.POSITIVE_INFINITY),
    names.map(() => Number.NEGATIVE_INFINITY),
  ];
  for (let row = from; row < to; row += 1) {
    const name = series[row] as number;
    const at = tMs[row] as number;
    if (at < (first[name] as number)) first[name] = at;
    if (at > (last[name] as number)) last[name] = at;
  }
  const found = new Map<string, OwedRange>();
  const isLong = names.map((_, name) => {
    const [fromMs, toMs] = [first[name] as number, last[name] as number];
    return fromMs <= toMs && beginOf(fromMs, dayMs) !== beginOf(toMs, dayMs);
  });
  for (const [name, own] of names.entries()) {
    const [fromMs, toMs] = [first[name] as number, last[name] as number];
    if (fromMs <= toMs && !isLong[name]) addTo(found, { series: own, fromMs, toMs: toMs + 1 });
  }
  if (!isLong.includes(true)) return [...found.values()];
  for (let row = from; row < to; row += 1) {
    const name = series[row] as number;
    const at = tMs[row] as number;
    if (isLong[name]) addTo(found, { series: names[name] as string, fromMs: at, toMs: at + 1 });
  }
  return [...found.values()];
}

function addTo<Range extends OwedRange>(all: Map<string, Range>, range: Range): void {
  const key = `${beginOf(range.fromMs, dayMs)} ${range.series}`;
  const known = all.get(key);
  all.set(key, {
    ...range,
    fromMs: Math.min(range.fromMs, known?.fromMs ?? range.fromMs),
    toMs: Math.max(range.toMs, known?.toMs ?? range.toMs),
  });
}

/**
 * Stretches of writes that got no answer, each within a day of a series. Such a write may be stored late, over what was written
 * since; then the newest has to be written once more. Bounded by series and days.
 */
export class InDoubt {
  private readonly doubts = new Map<string, Doubt>();
  /** Of the write that is on its way: who is ended in the middle of it has no answer either. */
  underWay: readonly OwedRange[] = [];

  /** A write without an answer: it may come for `inDoubtMs` from now on. */
  note(ranges: readonly OwedRange[], nowMs: number): void {
    for (const range of ranges) addTo(this.doubts, { ...range, untilMs: nowMs + inDoubtMs });
  }

  /** The stretches that nothing late can come for any more; they stay until `settled`. */
  over(nowMs: number): readonly OwedRange[] {
    return this.list(({ untilMs }) => untilMs <= nowMs);
  }

  /** The stretches that are over were taken care of. */
  settled(nowMs: number): void {
    for (const [key, { untilMs }] of this.doubts) if (untilMs <= nowMs) this.doubts.delete(key);
  }

  /** What is to be known at the next start: these, and what is on its way. */
  all(): readonly OwedRange[] {
    return [...this.list(() => true), ...this.underWay];
  }

  private list(isMeant: (doubt: Doubt) => boolean): readonly OwedRange[] {
    return [...this.doubts.values()]
      .filter(isMeant)
      .map(({ series, fromMs, toMs }) => ({ series, fromMs, toMs }));
  }
}
