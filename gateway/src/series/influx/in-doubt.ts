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
  const found = new Map<string, OwedRange>();
  for (let row = from; row < to; row += 1) {
    const series = batch.names[batch.series[row] as number] as string;
    const tMs = batch.tMs[row] as number;
    addTo(found, { series, fromMs: tMs, toMs: tMs + 1 });
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

  all(): readonly OwedRange[] {
    return this.list(() => true);
  }

  private list(isMeant: (doubt: Doubt) => boolean): readonly OwedRange[] {
    return [...this.doubts.values()]
      .filter(isMeant)
      .map(({ series, fromMs, toMs }) => ({ series, fromMs, toMs }));
  }
}
