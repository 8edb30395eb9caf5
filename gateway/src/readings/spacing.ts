/** How far apart the measurements of a series are, where its node announces nothing. Plain data. */
export interface Spacing {
  readonly ms: number;
  /** What its steps have been lately instead, and how often. */
  readonly other?: { readonly ms: number; readonly times: number };
}

/** No series of a node that announces nothing is taken to be slower: one that is says so. */
const slowestMs = 70_000;
/** Steps that differ by less than this share of the usual one are alike. */
const alike = 0.25;
/** So many like steps are a new spacing. */
const enough = 12;
/** Up to so many packs in a row are lost, but for one: their step is a whole multiple. */
const mostMultiple = 6;

const isLike = (stepMs: number, ms: number): boolean => Math.abs(stepMs - ms) <= alike * ms;

/** Packs between were lost: it says nothing of a spacing. */
function isMultiple(stepMs: number, ms: number): boolean {
  const times = Math.round(stepMs / ms);
  return times > 1 && times <= mostMultiple && isLike(stepMs - (times - 1) * ms, ms);
}

const nearer = (ms: number, stepMs: number): number => ms + (stepMs - ms) / 4;

/**
 * The spacing after a step: it goes along with steps like it. Another one, slower or faster, is followed once it has
 * come so often with nothing but lost packs between; a silence, and packs lost at random, are none.
 */
export function afterStep(before: Spacing | undefined, stepMs: number): Spacing | undefined {
  if (stepMs <= 0) return before;
  if (!before) return { ms: Math.min(slowestMs, stepMs) };
  const { ms, other } = before;
  if (other && isLike(stepMs, other.ms)) {
    const now = { ms: nearer(other.ms, stepMs), times: other.times + 1 };
    return now.times < enough ? { ms, other: now } : { ms: Math.min(slowestMs, now.ms) };
  }
  if (other && other.ms < ms && isMultiple(stepMs, other.ms)) return before;
  if (isLike(stepMs, ms)) return { ms: Math.min(slowestMs, nearer(ms, stepMs)) };
  if (other && isMultiple(stepMs, other.ms)) return before;
  return { ms, other: { ms: stepMs, times: 1 } };
}
