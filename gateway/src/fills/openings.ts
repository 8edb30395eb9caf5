import { type Bulk, bulkOf, nearestRank } from "./habit-spread.ts";
import { enoughFills, isWhole, type Learned, leastMs, maxFills, noteChange } from "./learned.ts";
import { peakAt, withPeak } from "./peaks.ts";

/** Remembers for how long the valve before a drum stood open. */
export function learnOpening(learned: Learned, durationMs: number): void {
  if (durationMs < leastMs) return;
  learned.openingsMs = [...(learned.openingsMs ?? []), durationMs].slice(-maxFills);
  noteChange(learned);
}

/** How long the valve before a drum stands open at most, ms: the 95th percentile; null before 5 times. */
export const longestOpeningMs = ({ openingsMs = [] }: Learned): number | null =>
  openingsMs.length < enoughFills ? null : nearestRank(openingsMs);

/** Worked out once for what was learned last: asked at each reading. */
const figures = new WeakMap<readonly number[], { readonly mostMs: number; readonly bulk: Bulk }>();

function figuresOf(values: readonly number[]) {
  const known = figures.get(values) ?? { mostMs: nearestRank(values), bulk: bulkOf(values) };
  figures.set(values, known);
  return known;
}

/** What a call that its float ended tells of its valve. */
interface CallOver {
  /** For how long the valve stood open in it, ms. */
  readonly openMs: number;
  /** When it ended, epoch ms. */
  readonly atMs: number;
  /** A clock shut its valve in between: it explains as much at that time of day, no more. */
  readonly hasStood: boolean;
}

/** Remembers for how long the valve stood open from release to trip: what a clock makes a call wait for brings nothing. */
export function learnOpenInCall(learned: Learned, { openMs, atMs, hasStood }: CallOver): void {
  const values = learned.openInCallsMs ?? [];
  if (openMs < leastMs || !isWhole(values, openMs)) return;
  const usualMs = figuresOf(values).bulk.most;
  if (usualMs > 0 && openMs > usualMs)
    learned.openInCallPeaks = withPeak(learned.openInCallPeaks ?? [], {
      atMs,
      litres: null,
      durationMs: openMs,
    });
  noteChange(learned);
  if (!hasStood) learned.openInCallsMs = [...values, openMs].slice(-maxFills);
}

/**
 * For how long the valve stands open at most in a call about this time of day, ms: the 95th percentile of the last calls,
 * as far as they spread, or what is a habit at that time; null before 5 calls.
 */
export function mostOpenInCallMs(learned: Learned, atMs: number): number | null {
  const { openInCallsMs = [], openInCallPeaks = [] } = learned;
  if (openInCallsMs.length < enoughFills) return null;
  const { mostMs, bulk } = figuresOf(openInCallsMs);
  return Math.max(
    mostMs,
    bulk.most,
    peakAt(openInCallPeaks, atMs, { litres: bulk, durationMs: bulk }).durationMs,
  );
}
