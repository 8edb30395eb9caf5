const dayMs = 86_400_000;
/** What is usual at a time of day is kept for so long (common practice, no source: people work by the week). */
const keptMs = 14 * dayMs;
/** Habits are kept to within so much. */
const nearMs = 2 * 3_600_000;
const maxPeaks = 60;

/** A good fill, or a call of the float, that took more than most: what a water change at noon brings every day. */
export interface Peak {
  readonly atMs: number;
  /** Null where nothing told them, and of a call. */
  readonly litres: number | null;
  readonly durationMs: number;
}

function isNear(a: number, b: number): boolean {
  const apart = Math.abs(a - b) % dayMs;
  return Math.min(apart, dayMs - apart) <= nearMs;
}

/** With one more; what it is greater than in every way, about the same time of day, tells nothing beside it. */
export function withPeak(peaks: readonly Peak[], peak: Peak): Peak[] {
  const left = peaks.filter(
    ({ atMs, litres, durationMs }) =>
      peak.atMs - atMs <= keptMs &&
      !(isNear(atMs, peak.atMs) && durationMs <= peak.durationMs && (litres ?? 0) <= (peak.litres ?? 0)),
  );
  return [...left, peak].slice(-maxPeaks);
}

/** The greatest of the last 14 days about this time of day: litres and ms; 0 where there is none. */
export function peakAt(peaks: readonly Peak[], atMs: number): { litres: number; durationMs: number } {
  const near = peaks.filter((peak) => atMs - peak.atMs <= keptMs && isNear(peak.atMs, atMs));
  return {
    litres: Math.max(0, ...near.map(({ litres }) => litres ?? 0)),
    durationMs: Math.max(0, ...near.map(({ durationMs }) => durationMs)),
  };
}
