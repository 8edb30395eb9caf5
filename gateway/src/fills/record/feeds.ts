import { medianOfSorted, quantileOfSorted, sorted } from "../../statistics/index.ts";
import { SortedColumn } from "./sorted-column.ts";

const sampleMs = 10 * 60_000;
const keptMs = 86_400_000;
const freshMs = 10 * 60_000;

/** What was read at a point in the last 24 h, one value each 10 min; and its last value. Plain data. */
export interface FeedTrace {
  samples: { readonly tMs: number; readonly kappa25: number }[];
  last: { readonly tMs: number; readonly kappa25: number } | null;
}

/** What a medium is fed with, uS/cm. */
export interface Feed {
  readonly median25: number;
  readonly p99: number;
}

/** Nothing is known of the feed yet. */
export const newFeedTrace = (): FeedTrace => ({ samples: [], last: null });

/** The values of a day in their order, of traces that were asked for: one comes and one goes each 10 min. */
const columns = new WeakMap<FeedTrace, SortedColumn>();

/** Remembers a reading; true when the day's picture changed. */
export function takeFeed(trace: FeedTrace, kappa25: number, tMs: number): boolean {
  trace.last = { tMs, kappa25 };
  const { samples } = trace;
  const newest = samples[samples.length - 1];
  if (newest && tMs - newest.tMs < sampleMs) return false;
  const column = columns.get(trace);
  samples.push({ tMs, kappa25 });
  column?.add(kappa25);
  for (let oldest = samples[0]; oldest !== undefined && oldest.tMs < tMs - keptMs; oldest = samples[0]) {
    samples.shift();
    column?.remove(oldest.kappa25);
  }
  return true;
}

/** The day's picture. */
export function feedOf(trace: FeedTrace): Feed | null {
  if (trace.samples.length === 0) return null;
  let column = columns.get(trace);
  if (column === undefined) {
    column = new SortedColumn(sorted(trace.samples.map(({ kappa25 }) => kappa25)));
    columns.set(trace, column);
  }
  const values = column.values();
  return { median25: medianOfSorted(values), p99: quantileOfSorted(values, 0.99) };
}

/** What was read last, if that is about now; null else. */
export function feedNow(trace: FeedTrace | undefined, tMs: number): number | null {
  const last = trace?.last;
  return last && Math.abs(tMs - last.tMs) <= freshMs ? last.kappa25 : null;
}
