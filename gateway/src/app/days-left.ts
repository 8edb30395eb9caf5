import type { DiskSpace } from "./disk-space.ts";

const dayMs = 24 * 60 * 60_000;
/** Before so long nothing can be said of a rate. */
const minSpanMs = 6 * 60 * 60_000;

/** How many days a disk takes more at the rate of the last day; null: it does not fill, or nobody can tell yet. */
export function createDaysLeft() {
  let samples: { readonly atMs: number; readonly freeBytes: number }[] = [];
  return (nowMs: number, freeBytes: number): number | null => {
    samples = samples.filter(({ atMs }) => nowMs - atMs <= dayMs);
    samples.push({ atMs: nowMs, freeBytes });
    const [first] = samples;
    if (!first || nowMs - first.atMs < minSpanMs) return null;
    const perDay = ((first.freeBytes - freeBytes) / (nowMs - first.atMs)) * dayMs;
    return perDay <= 0 ? null : Math.floor(freeBytes / perDay);
  };
}

/** At the rate of so long a disk counts as full soon, where it is full within a minute and has less than a quarter left. */
const rateOfMs = 10_000;
const soonMs = 60_000;
const soonShare = 0.25;

/** Whether a disk fills so fast that it is full within a minute: asked every few seconds. */
export function createFullSoon() {
  let samples: { readonly atMs: number; readonly freeBytes: number }[] = [];
  return (nowMs: number, { freeBytes, allBytes }: DiskSpace): boolean => {
    samples = samples.filter(({ atMs }) => nowMs - atMs <= rateOfMs);
    samples.push({ atMs: nowMs, freeBytes });
    const [first] = samples;
    // What is written at one blow, such as a copy, is over sooner.
    const falls = samples.every(
      ({ freeBytes: free }, n) => n === 0 || free < (samples[n - 1]?.freeBytes ?? 0),
    );
    if (!first || !falls || nowMs - first.atMs < 0.7 * rateOfMs) return false;
    const perMs = (first.freeBytes - freeBytes) / (nowMs - first.atMs);
    return perMs > 0 && freeBytes < soonShare * allBytes && freeBytes / perMs < soonMs;
  };
}
