/** What must have passed, all of it together. Nothing given: at once. */
interface Delay {
  /** Time from one judged reading to the next, both of the same mind. At standstill nothing is added, nothing lost. */
  readonly judgedMs?: number;
  /** Time on the clock. It stands still while the subject can't be judged. */
  readonly elapsedMs?: number;
  readonly readings?: number;
  readonly litres?: number;
  readonly fills?: number;
}

/** One delay, or several of which one is enough. */
export type Delays = Delay | readonly Delay[];

/** What has passed so far of one delay. Plain data. */
export interface Passed {
  readonly judgedMs: number;
  readonly readings: number;
  readonly litres: number;
  readonly fills: number;
  /** Clock time before `sinceMs`. */
  readonly elapsedMs: number;
  /** From when on the clock runs; null: it stands. */
  readonly sinceMs: number | null;
}

/** Nothing has passed. */
export const nothingPassed: Passed = {
  judgedMs: 0,
  readings: 0,
  litres: 0,
  fills: 0,
  elapsedMs: 0,
  sinceMs: null,
};

/** What came with the newest reading; all 0 where nothing new was read. */
export interface Step {
  readonly ms: number;
  readonly readings: number;
  readonly litres: number;
  readonly fills: number;
}

/** Time and litres up to the first reading of its kind were not seen to be so: they count from one to the next. */
export function passOn(passed: Passed, step: Step, isSecond: boolean, nowMs: number): Passed {
  return {
    judgedMs: passed.judgedMs + (isSecond ? step.ms : 0),
    readings: passed.readings + step.readings,
    litres: passed.litres + (isSecond ? step.litres : 0),
    fills: passed.fills + step.fills,
    elapsedMs: passed.elapsedMs,
    sinceMs: passed.sinceMs ?? nowMs,
  };
}

/** A reading that says otherwise takes its own time away, and all only when nothing is left. */
export function giveBack(passed: Passed, { ms }: Step): Passed {
  const judgedMs = passed.judgedMs - ms;
  return judgedMs > 0 ? { ...passed, judgedMs } : nothingPassed;
}

/** Nobody can tell: the clock stands, all else stays. */
export function holdStill(passed: Passed, nowMs: number): Passed {
  if (passed.sinceMs === null) return passed;
  return { ...passed, elapsedMs: passed.elapsedMs + (nowMs - passed.sinceMs), sinceMs: null };
}

const elapsedOf = ({ elapsedMs, sinceMs }: Passed, nowMs: number) =>
  elapsedMs + (sinceMs === null ? 0 : nowMs - sinceMs);

function isCounted(passed: Passed, delay: Delay): boolean {
  return (
    passed.judgedMs >= (delay.judgedMs ?? 0) &&
    passed.readings >= (delay.readings ?? 0) &&
    passed.litres >= (delay.litres ?? 0) &&
    passed.fills >= (delay.fills ?? 0)
  );
}

const everyOf = (delays: Delays): readonly Delay[] => (Array.isArray(delays) ? delays : [delays as Delay]);

/** One of the delays is over. */
export function isOver(passed: Passed, delays: Delays, nowMs: number): boolean {
  return everyOf(delays).some(
    (delay) => isCounted(passed, delay) && elapsedOf(passed, nowMs) >= (delay.elapsedMs ?? 0),
  );
}

/** When one of them is over by the clock alone, epoch ms; null: the clock does not decide it. */
export function overAtMs(passed: Passed, delays: Delays, nowMs: number): number | null {
  if (passed.sinceMs === null) return null;
  let leastMs: number | null = null;
  for (const delay of everyOf(delays)) {
    if (!isCounted(passed, delay)) continue;
    const atMs = nowMs + Math.max(0, (delay.elapsedMs ?? 0) - elapsedOf(passed, nowMs));
    if (leastMs === null || atMs < leastMs) leastMs = atMs;
  }
  return leastMs;
}
