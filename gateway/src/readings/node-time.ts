/** How fast a boot's offset may rise: 250 ppm of the time passed. Node clocks are within ± 100 ppm. */
const risePerMs = 250e-6;
/** A fall of less than this is jitter, not a backlog still coming in; `up` may be whole seconds. */
const jitterMs = 1000;
/** So many packs in a row without a fall, and the offset is trusted. */
const settledAfter = 3;

/** What is known of one boot's clock: `madeAt = up + offset`. Plain JSON. */
export interface BootClock {
  offsetMs: number;
  /** Engine time at which the offset was last brought forward. */
  atMs: number;
  withoutFall: number;
  settled: boolean;
  /** Greatest `up` of this clock so far, ms. */
  latestUpMs: number;
}

/** The clock of a boot at its first pack. */
export function firstClock(receivedAtMs: number, upMs: number): BootClock {
  return {
    offsetMs: receivedAtMs - upMs,
    atMs: receivedAtMs,
    withoutFall: 0,
    settled: false,
    latestUpMs: upMs,
  };
}

/**
 * Takes one more pack of the boot into its clock: the offset falls at once to `receivedAt − up` when that is less,
 * and otherwise rises by at most 250 ppm of the time passed. Delay can only make a pack late, never early, so the
 * least difference is the truest.
 */
export function observe(clock: BootClock, receivedAtMs: number, upMs: number): void {
  const candidate = receivedAtMs - upMs;
  const risen = clock.offsetMs + Math.max(0, receivedAtMs - clock.atMs) * risePerMs;
  const fell = candidate < clock.offsetMs - jitterMs;
  clock.offsetMs = Math.min(risen, candidate);
  clock.atMs = Math.max(clock.atMs, receivedAtMs);
  clock.latestUpMs = Math.max(clock.latestUpMs, upMs);
  clock.withoutFall = fell ? 0 : clock.withoutFall + 1;
  if (clock.withoutFall >= settledAfter) clock.settled = true;
}

/** `up` that falls by more than this is another count of time, not a pack that was overtaken. */
const freshCountMs = 60_000;

/**
 * True when `up` has begun anew within a boot: a 32-bit count of milliseconds wraps after 49.7 days, and a node may
 * start again with a boot number that it had before. `later`: the pack was made after those before it, by its `seq`
 * or because its numbers stand with other bytes; only then is a small `up` no old pack that comes late.
 */
export function begunAnew(clock: BootClock, upMs: number, later: boolean): boolean {
  return later && upMs < clock.latestUpMs - freshCountMs;
}
