/** A time within a fill in which its water stood, epoch ms. Plain data. */
export interface Standstill {
  readonly fromMs: number;
  readonly toMs: number;
}

/** What a fill remembers of it. */
interface Standing {
  readonly startedAtMs: number;
  readonly stoppedAtMs: number | null;
  readonly backMs: number | null;
  standstills?: readonly Standstill[];
  /** It may have stood in a silence as well: nobody knows for how long. */
  stoodUnheard?: true;
  /** Each time that it stood is noted, but for moments; absent: a row of versions before. */
  readonly notesStands?: true;
}

/** What has stood for less is still the water that ran. */
const leastMs = 2 * 60_000;
/** More than these no outage has; of an older one the water is judged as if it had run. */
const maxKept = 8;
/** First water comes again after a longer standstill. */
export const rearmMs = 15 * 60_000;
/** Where it is not known whether water runs, only so much over the limit counts. */
export const doubtTimes = 3;

/** Water comes again in a fill after it was told to stand; what a silence hid is not taken for that. */
export function markStandstill(open: Standing, toMs: number): void {
  const fromMs = open.stoppedAtMs;
  if (fromMs === null || toMs - fromMs <= leastMs) return;
  if (open.backMs !== null) {
    open.stoodUnheard = true;
    return;
  }
  open.standstills = [...(open.standstills ?? []), { fromMs, toMs }].slice(-maxKept);
}

/** How a fill's reading is judged that is told of afterwards. */
export interface JudgedThen {
  /** The limit of that moment, uS/cm. */
  readonly limit25: number;
  /** Since when water ran, first water counted anew after a long standstill; epoch ms. */
  readonly runsSinceMs: number;
}

/** The limit at a time within a fill, and since when its water ran then: what stood is not judged as what ran in. */
export function judgedThen(open: Standing, limit25: number, tMs: number): JudgedThen {
  let runsSinceMs = open.startedAtMs;
  for (const { fromMs, toMs } of open.standstills ?? []) {
    if (tMs > fromMs && tMs < toMs) return { limit25: doubtTimes * limit25, runsSinceMs };
    if (tMs >= toMs && toMs - fromMs > rearmMs) runsSinceMs = toMs;
  }
  return { limit25, runsSinceMs };
}

/**
 * For how long water ran of [callMs, toMs), ms, of a fill that has stood: without what it stood, and not before it began, however
 * long its float had called by then; null where nobody knows how long it stood (of a row of versions before too).
 */
export function ranMs(open: Standing, callMs: number, toMs: number): number | null {
  const { standstills = [], stoppedAtMs } = open;
  if (!open.notesStands || open.stoodUnheard || standstills.length >= maxKept) return null;
  const fromMs = Math.max(callMs, open.startedAtMs);
  const last = stoppedAtMs === null ? [] : [{ fromMs: stoppedAtMs, toMs: Math.max(stoppedAtMs, toMs) }];
  const stoodMs = [...standstills, ...last].reduce(
    (sum, one) => sum + Math.max(0, Math.min(toMs, one.toMs) - Math.max(fromMs, one.fromMs)),
    0,
  );
  return toMs - fromMs - stoodMs;
}
