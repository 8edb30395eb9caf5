import type { Buckets } from "@drumlin/gateway/contract";
import type { Axis } from "./axis.ts";

/** A stretch of time. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** A series in a box of 1000 × 1000, over the time that was loaded. */
export interface Curve {
  /** Mean; a lone reading is a dot. */
  readonly mean: string;
  /** From lowest to highest, and its outline: one reading in a bucket of hours still stands out. */
  readonly band: string;
}

interface Known {
  readonly x: number;
  readonly min: number;
  readonly mean: number;
  readonly max: number;
}

/** Buckets that are empty because the probe speaks less often than they come are no gap: up to so long, ms. */
const noGapMs = 90_000;
const isBridged = (apartMs: number, bucketMs: number): boolean =>
  apartMs <= Math.max(1.5 * bucketMs, noGapMs);

/** Stretches of buckets with something in them; short empty ones are bridged. */
function piecesOf({ t, min, mean, max, bucketMs }: Buckets, loaded: Stretch): Known[][] {
  const pieces: Known[][] = [];
  const span = loaded.toMs - loaded.fromMs;
  let lastMs = Number.NEGATIVE_INFINITY;
  t.forEach((ms, at) => {
    const [low, middle, high] = [min[at], mean[at], max[at]];
    if (low == null || middle == null || high == null) return;
    const known = {
      x: ((ms + bucketMs / 2 - loaded.fromMs) / span) * 1000,
      min: low,
      mean: middle,
      max: high,
    };
    if (!isBridged(ms - lastMs, bucketMs)) pieces.push([known]);
    else pieces.at(-1)?.push(known);
    lastMs = ms;
  });
  return pieces;
}

/** Draws buckets on an axis. */
export function curveOn(buckets: Buckets, axis: Axis, loaded: Stretch): Curve {
  const y = (value: number) => (axis.y(value) * 1000).toFixed(1);
  const path = (points: readonly (readonly [number, string])[]) =>
    points.map(([x, height], at) => `${at === 0 ? "M" : "L"}${x.toFixed(2)} ${height}`).join("");
  const pieces = piecesOf(buckets, loaded);
  return {
    mean: pieces
      .map((own) => path(own.map(({ x, mean }) => [x, y(mean)])) + (own.length === 1 ? "h.01" : ""))
      .join(""),
    band: pieces
      .map((own) => {
        const there = own.map(({ x, max }) => [x, y(max)] as const);
        const back = [...own].reverse().map(({ x, min }) => [x, y(min)] as const);
        return `${path([...there, ...back])}Z`;
      })
      .join(""),
  };
}

/** Stretches in which none of the series has anything, longer than two buckets. */
export function emptyIn(all: readonly Buckets[]): Stretch[] {
  const [first] = all;
  if (!first) return [];
  const { t, bucketMs } = first;
  const found: { fromMs: number; toMs: number }[] = [];
  t.forEach((ms, at) => {
    if (all.some(({ count }) => (count[at] ?? 0) > 0)) return;
    const last = found.at(-1);
    if (last && last.toMs === ms) last.toMs = ms + bucketMs;
    else found.push({ fromMs: ms, toMs: ms + bucketMs });
  });
  return found.filter(({ fromMs, toMs }) => toMs - fromMs >= Math.max(2 * bucketMs, noGapMs));
}

/** Stretches in which a series is suspect or failed a test. */
export function doubtfulIn({ t, flag, bucketMs }: Buckets): Stretch[] {
  const found: { fromMs: number; toMs: number }[] = [];
  t.forEach((ms, at) => {
    if (flag[at] !== 3 && flag[at] !== 4) return;
    const last = found.at(-1);
    if (last && last.toMs === ms) last.toMs = ms + bucketMs;
    else found.push({ fromMs: ms, toMs: ms + bucketMs });
  });
  return found;
}

/** Lowest and highest of all; null where nothing is known. */
export function rangeOf(all: readonly Buckets[]): { readonly low: number; readonly high: number } | null {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { min, max } of all) {
    for (const value of min) if (value !== null && value < low) low = value;
    for (const value of max) if (value !== null && value > high) high = value;
  }
  return low <= high ? { low, high } : null;
}

const hasSomething = ({ count, mean }: Buckets, at: number): boolean =>
  (count[at] ?? 0) > 0 && mean[at] != null;

/** Which bucket tells of a time: its own, or where the curve is bridged the nearer one; -1 where nothing was heard. */
function toldAt(buckets: Buckets, ms: number): number {
  const { t, bucketMs } = buckets;
  const at = Math.floor((ms - (t[0] ?? 0)) / bucketMs);
  if (!(at in t)) return -1;
  if (hasSomething(buckets, at)) return at;
  let [before, after] = [at - 1, at + 1];
  while (before >= 0 && !hasSomething(buckets, before)) before -= 1;
  while (after < t.length && !hasSomething(buckets, after)) after += 1;
  const [beforeMs, afterMs] = [t[before], t[after]];
  if (beforeMs === undefined || afterMs === undefined || !isBridged(afterMs - beforeMs, bucketMs)) return -1;
  return ms - beforeMs < afterMs - ms ? before : after;
}

/** The bucket of a time; null outside, and where nothing was heard. */
export function bucketAt(buckets: Buckets, ms: number) {
  const at = toldAt(buckets, ms);
  const [min, mean, max, flag] = [buckets.min[at], buckets.mean[at], buckets.max[at], buckets.flag[at]];
  if (min == null || mean == null || max == null) return null;
  return { min, mean, max, flag: flag ?? 1, count: buckets.count[at] ?? 0 };
}
