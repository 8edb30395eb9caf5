import { medianOfSorted, quantileOfSorted, sorted } from "../../statistics/index.ts";

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

/** Remembers a reading; true when the day's picture changed. */
export function takeFeed(trace: FeedTrace, kappa25: number, tMs: number): boolean {
  trace.last = { tMs, kappa25 };
  const newest = trace.samples.at(-1);
  if (newest && tMs - newest.tMs < sampleMs) return false;
  trace.samples.push({ tMs, kappa25 });
  while ((trace.samples[0]?.tMs ?? tMs) < tMs - keptMs) trace.samples.shift();
  return true;
}

const worked = new WeakMap<FeedTrace, { readonly newestMs: number; readonly feed: Feed }>();

/** The day's picture: worked out once for each sample that was added. */
export function feedOf(trace: FeedTrace): Feed | null {
  const newest = trace.samples.at(-1);
  if (!newest) return null;
  const known = worked.get(trace);
  if (known?.newestMs === newest.tMs) return known.feed;
  const column = sorted(trace.samples.map(({ kappa25 }) => kappa25));
  const feed = { median25: medianOfSorted(column), p99: quantileOfSorted(column, 0.99) };
  worked.set(trace, { newestMs: newest.tMs, feed });
  return feed;
}

/** What was read last, if that is about now; null else. */
export function feedNow(trace: FeedTrace | undefined, tMs: number): number | null {
  const last = trace?.last;
  return last && Math.abs(tMs - last.tMs) <= freshMs ? last.kappa25 : null;
}
