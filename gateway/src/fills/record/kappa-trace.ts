import type { Measurement } from "../../measurements/index.ts";

/** A reading speaks until the next one, if that comes within so long; else for a few seconds. */
const speaksMs = 90_000;
const speaksAloneMs = 10_000;
/** A hole in the readings up to this, judged good on both sides, counts at the higher side. */
const bridgedMs = 5 * 60_000;
const keptMs = 40 * 60_000;
const maxKept = 480;
/** So many more may lie before them until they are taken away together: one by one cost more than all the rest. */
const maxBefore = 160;
/** Above this share of the feed the probe is more likely wrong than the water. */
const feedShare = 1.2;

/** One reading of a point's water; null: the probe was no witness. */
export interface KappaReading {
  readonly tMs: number;
  readonly kappa25: number | null;
}

/** The last readings at a point, oldest first, with some before them: `keptOf` takes those away. Plain data. */
export type KappaTrace = KappaReading[];

/**
 * What a measurement tells of quality; null where its probe is no witness: failed, under an unproven resolution, 0
 * without a resolution that it fits, or above 1.2 × the feed. `raw`: κ at the water's temperature from the same reading.
 */
export function witnessed(
  measurement: Measurement,
  raw: number | null,
  feed25: number | null,
): number | null {
  const { value, flag, reasons, belowResolution } = measurement;
  if (value === null || flag === 4 || flag === 9 || reasons.includes("unproven")) return null;
  if ((value <= 0 || raw === 0) && belowResolution !== true) return null;
  if (feed25 !== null && value > feedShare * feed25) return null;
  return value;
}

function unspiked(before: KappaReading, spike: KappaReading, after: KappaReading): KappaReading {
  const { kappa25: a } = before;
  const { kappa25: b } = spike;
  const { kappa25: c } = after;
  if (a === null || b === null || c === null) return spike;
  const isSpike = b > 2 * Math.max(a, c) + 0.2;
  return isSpike ? { tMs: spike.tMs, kappa25: Math.max(a, c) } : spike;
}

/** Remembers a reading; a single one that stands out of both neighbours is taken for what they say. */
export function remember(trace: KappaTrace, reading: KappaReading): void {
  const last = trace[trace.length - 1];
  if (last && reading.tMs < last.tMs) return;
  if (last?.tMs === reading.tMs) {
    // Two values of one time: neither is believed.
    if (last.kappa25 !== reading.kappa25) trace[trace.length - 1] = { tMs: last.tMs, kappa25: null };
    return;
  }
  trace.push(reading);
  const before = trace[trace.length - 3];
  const middle = trace[trace.length - 2];
  if (before && middle) trace[trace.length - 2] = unspiked(before, middle, reading);
  if (trace.length > maxKept + maxBefore) keptOf(trace);
}

/** The trace with what is kept alone: 480 readings and 40 min at most, and the one before those. */
export function keptOf(trace: KappaTrace): KappaTrace {
  const lastMs = trace.at(-1)?.tMs ?? 0;
  let first = Math.max(0, trace.length - maxKept);
  while (((trace[first + 1] as KappaReading | undefined)?.tMs ?? lastMs) < lastMs - keptMs) first += 1;
  // One goes where one comes: a splice would make a list of it, at each reading.
  if (first === 1) trace.shift();
  else if (first > 0) trace.splice(0, first);
  return trace;
}

/** Part of a stretch of time, as it was seen. */
export interface Seen {
  readonly share: number;
  readonly kappa25: number;
  /** Not seen, but between two good readings. */
  readonly bridged: boolean;
}

/** A probe that is read so seldom all the time has no hole there. */
const usualTimes = 1.5;

function isUsualStep(trace: KappaTrace, index: number, nextMs: number): boolean {
  const [before, here] = [trace[index - 1], trace[index]];
  return (
    before !== undefined && here !== undefined && nextMs - here.tMs <= usualTimes * (here.tMs - before.tMs)
  );
}

/** The readings of the point before a drum, and which of them are good. */
export interface Readings {
  readonly trace: KappaTrace;
  readonly isGood: (kappa25: number) => boolean;
  /** What the drum's water may read, uS/cm; null or absent: nothing is asked of it. */
  readonly band25?: number | null;
  /** When its water began to run, ms; absent: before all of them. */
  readonly sinceMs?: number;
}

/**
 * How a stretch was seen: parts of it with their κ25; what is left of 1 was seen by nobody. What stood there before the run
 * began, at `sinceMs`, tells nothing of the water in a hole.
 */
export function seenIn(
  { trace, isGood, sinceMs = Number.NEGATIVE_INFINITY }: Readings,
  fromMs: number,
  toMs: number,
): readonly Seen[] {
  const all = toMs - fromMs;
  const seen: Seen[] = [];
  const begin = trace.findLastIndex(({ tMs, kappa25 }) => tMs <= fromMs && kappa25 !== null);
  for (let index = Math.max(0, begin); index < trace.length; index += 1) {
    const { tMs, kappa25 } = trace[index] as KappaReading;
    if (tMs > toMs) break;
    if (kappa25 === null) continue;
    const next = trace[index + 1];
    const untilMs = next && next.tMs - tMs <= speaksMs ? next.tMs : tMs + speaksAloneMs;
    const partMs = Math.min(untilMs, toMs) - Math.max(tMs, fromMs);
    if (all <= 0 ? fromMs >= tMs && fromMs < untilMs : partMs > 0)
      seen.push({ share: all <= 0 ? 1 : partMs / all, kappa25, bridged: false });
    if (next && next.tMs <= untilMs && next.kappa25 !== null) continue;
    const after = trace.slice(index + 1).find((later) => later.kappa25 !== null);
    if (!after || after.kappa25 === null || after.tMs <= untilMs || after.tMs - tMs > bridgedMs) continue;
    if (tMs < sinceMs && !isUsualStep(trace, index, after.tMs)) continue;
    const holeMs = Math.min(after.tMs, toMs) - Math.max(untilMs, fromMs);
    if (holeMs > 0 && all > 0 && isGood(kappa25) && isGood(after.kappa25))
      seen.push({ share: holeMs / all, kappa25: Math.max(kappa25, after.kappa25), bridged: true });
  }
  return seen;
}
