import { type Bulk, mostOfHabit } from "./habit-spread.ts";

const dayMs = 86_400_000;
/** What is usual at a time of day is kept for so long (common practice, no source: people work by the week). */
const keptMs = 14 * dayMs;
/** Habits are kept to within so much. */
const nearMs = 2 * 3_600_000;
const maxPeaks = 60;
/** What an alarm told of explains alone no more than so many times the most that is usual (common practice, no source). */
const doubtedTimes = 5;
/** What was seen once explains what comes so many days later: yesterday's, or that of the same weekday. */
const daysAlone: ReadonlySet<number> = new Set([0, 1, 2, 7, 14]);

/** A good fill, or a call of the float, that took more than most: what a water change at noon brings every day. */
export interface Peak {
  readonly atMs: number;
  /** Null where nothing told them, and of a call. */
  readonly litres: number | null;
  readonly durationMs: number;
  /** An alarm told of it: alone it explains little, and on its own day nothing. */
  readonly isDoubted?: true;
}

/** Days between two moments, to the nearest. */
const daysApart = (a: number, b: number): number => Math.round(Math.abs(a - b) / dayMs);

function isNear(a: number, b: number): boolean {
  return Math.abs(Math.abs(a - b) - daysApart(a, b) * dayMs) <= nearMs;
}

/** With one more; what it is greater than in every way, on the same day about the same time, tells nothing beside it. */
export function withPeak(peaks: readonly Peak[], peak: Peak): Peak[] {
  const left = peaks.filter(
    ({ atMs, litres, durationMs }) =>
      peak.atMs - atMs <= keptMs + nearMs &&
      !(
        daysApart(atMs, peak.atMs) === 0 &&
        isNear(atMs, peak.atMs) &&
        durationMs <= peak.durationMs &&
        (litres ?? 0) <= (peak.litres ?? 0)
      ),
  );
  return [...left, peak].slice(-maxPeaks);
}

/** The greatest of each day, by how many days ago it was. */
function greatestOfDays(
  near: readonly Peak[],
  atMs: number,
  of: (peak: Peak) => number,
): ReadonlyMap<number, number> {
  const ofDays = new Map<number, number>();
  for (const peak of near) {
    const days = daysApart(peak.atMs, atMs);
    ofDays.set(days, Math.max(ofDays.get(days) ?? 0, of(peak)));
  }
  return ofDays;
}

/**
 * What was reached on two days of them at least; and on one alone where that was a moment ago, as habits go. Days are few:
 * as far as what is usual spreads, the next one may reach farther.
 */
function explained(
  near: readonly Peak[],
  atMs: number,
  { of, bulk }: { readonly of: (peak: Peak) => number; readonly bulk: Bulk },
): number {
  const ofDays = greatestOfDays(near, atMs, of);
  const [, second = 0] = [...ofDays.values()].sort((a, b) => b - a);
  // One of which an alarm told may have been a flood that somebody ended.
  const sure = near.filter((peak) => !peak.isDoubted || of(peak) <= doubtedTimes * bulk.most);
  const alone = [...greatestOfDays(sure, atMs, of)]
    .filter(([days]) => daysAlone.has(days))
    .map(([, value]) => value);
  const most = Math.max(second, ...alone);
  if (most === 0) return 0;
  // What explains nothing by itself widens nothing either; nor does today, which is no habit.
  const kind = [...ofDays]
    .filter(([days, value]) => days > 0 && value > bulk.most)
    .map(([, value]) => Math.min(value, most));
  return Math.max(most, mostOfHabit(kind, bulk.reach));
}

/**
 * The most of the last 14 days about this time of day that is a habit, litres and ms: reached on two days, or on one of
 * the last two or of the same weekday: there of what an alarm told of 5 times the usual at most. 0 where nothing is: a float that hung once explains no flood
 * a week later.
 */
export function peakAt(
  peaks: readonly Peak[],
  atMs: number,
  bulk: { readonly litres: Bulk; readonly durationMs: Bulk },
): { litres: number; durationMs: number } {
  const near = peaks.filter(
    (peak) =>
      atMs - peak.atMs <= keptMs + nearMs &&
      isNear(peak.atMs, atMs) &&
      !(peak.isDoubted && daysApart(peak.atMs, atMs) === 0),
  );
  if (near.length === 0) return { litres: 0, durationMs: 0 };
  return {
    litres: explained(near, atMs, { of: ({ litres }) => litres ?? 0, bulk: bulk.litres }),
    durationMs: explained(near, atMs, { of: ({ durationMs }) => durationMs, bulk: bulk.durationMs }),
  };
}
