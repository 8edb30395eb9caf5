/** The newest value of a channel, and whether it agreed with the one before it. Plain JSON. */
export interface Recent {
  readonly tMs: number;
  readonly value: number;
  readonly steady: boolean;
}

/** Values further apart than this tell nothing of each other. */
const maxGapMs = 60_000;

/** A value that just came. */
interface NewValue {
  readonly tMs: number;
  readonly value: number;
  /** How far a good value may leave the last one. */
  readonly step: (last: number) => number;
}

/**
 * QARTOD spike test (US IOOS temperature and salinity manual v2.0, 2016, test 6), without waiting for the value after:
 * a value that leaves a steady pair by more than `step` is suspect; the next one either confirms it or is back.
 * It never fails a value: a breakthrough, or first water, leaves a steady pair too.
 */
export function leavesSteadyPair(own: { recent: Recent | null }, { tMs, value, step }: NewValue): boolean {
  const last = own.recent;
  if (last && tMs < last.tMs) return false; // Came late: judged by what was then, it would need the whole past.
  if (!last || tMs - last.tMs > maxGapMs) {
    own.recent = { tMs, value, steady: false };
    return false;
  }
  const jumped = Math.abs(value - last.value) > step(last.value);
  own.recent = { tMs, value, steady: !jumped };
  return jumped && last.steady;
}

/** °C: the manual's own example for temperature. */
export const temperatureStep = (): number => 3;

/** uS/cm: half of what it was, at least 10 (common practice, no source). For water that no medium has purified. */
export const naturalStep = (last: number): number => Math.max(10, 0.5 * Math.abs(last));
