import { createFreshness, type Periods } from "./freshness.ts";
import { type Gone, type Measurement, seriesOf } from "./measurement.ts";

/** The newest measurement of one channel and quantity, and until when it is about now. */
interface Newest {
  readonly channel: string;
  subject: Measurement["subject"];
  readonly quantity: Measurement["quantity"];
  tMs: number;
  dueMs: number;
  gone: boolean;
}

/** The state as plain JSON. */
export interface CurrentState {
  readonly newest: readonly (readonly [key: string, newest: Newest])[];
  readonly periodMs: Periods;
  readonly earliestMs: number | null;
}

/**
 * Tells which measurements are about now: the newest of their channel, and younger than 60 s or 3 periods of their
 * node. Only these move live values and reach alarms; what came late is history. One that is not followed in that time
 * is told to be gone, once.
 */
export function createCurrent() {
  let newest = new Map<string, Newest>();
  const freshness = createFreshness();
  // Never later than the earliest due time; a refreshed channel leaves it early, and the next pass finds the true one.
  let earliestMs: number | null = null;

  const { lifeMs } = freshness;

  function keep(key: string, entry: Newest): void {
    newest.set(key, entry);
    if (!entry.gone && (earliestMs === null || entry.dueMs < earliestMs)) earliestMs = entry.dueMs;
  }

  return {
    /** True when the measurement is about now. */
    take(measurement: Measurement, nowMs: number): boolean {
      const { channel, quantity, subject, tMs } = measurement;
      const key = `${channel} ${quantity}`;
      const before = newest.get(key);
      const dueMs = tMs + lifeMs(channel);
      const isCurrent = nowMs < dueMs;
      if (before === undefined) keep(key, { channel, subject, quantity, tMs, dueMs, gone: !isCurrent });
      else if (tMs < before.tMs) return false;
      else {
        // Written in place: this is the hot path of everything that is measured.
        before.subject = subject;
        before.tMs = tMs;
        before.dueMs = dueMs;
        before.gone = !isCurrent;
        if (isCurrent && (earliestMs === null || dueMs < earliestMs)) earliestMs = dueMs;
      }
      return isCurrent;
    },
    presence: freshness.presence,
    /** The gateway was away: what it could not hear in that time has not fallen silent. */
    restarted(nowMs: number): void {
      for (const [key, entry] of newest)
        if (!entry.gone) keep(key, { ...entry, dueMs: Math.max(entry.dueMs, nowMs + lifeMs(entry.channel)) });
    },
    nextDeadline: (): number | null => earliestMs,
    pass(nowMs: number, emit: (gone: Gone) => void): void {
      if (earliestMs === null || nowMs < earliestMs) return;
      earliestMs = null;
      const due: Newest[] = [];
      for (const [key, entry] of newest) {
        if (entry.gone) continue;
        if (nowMs < entry.dueMs) keep(key, entry);
        else {
          due.push(entry);
          keep(key, { ...entry, gone: true });
        }
      }
      due.sort((a, b) => a.dueMs - b.dueMs || (seriesOf(a) < seriesOf(b) ? -1 : 1));
      for (const { channel, subject, quantity, tMs } of due)
        emit({ kind: "gone", channel, subject, quantity, lastMs: tMs });
    },
    snapshot: (): CurrentState => ({ newest: [...newest], periodMs: freshness.snapshot(), earliestMs }),
    restore(state: CurrentState): void {
      newest = new Map(state.newest.map(([key, entry]) => [key, { ...entry }]));
      freshness.restore(state.periodMs);
      earliestMs = state.earliestMs;
    },
  };
}
