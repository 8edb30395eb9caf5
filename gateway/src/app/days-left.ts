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
