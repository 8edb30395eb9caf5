import type { NodePresence } from "../readings/index.ts";
import { type Gone, type Measurement, seriesOf } from "./measurement.ts";

const leastMs = 60_000;
const periods = 3;

/** The newest measurement of one channel and quantity, and until when it is about now. */
interface Newest {
  readonly channel: string;
  readonly subject: Measurement["subject"];
  readonly quantity: Measurement["quantity"];
  readonly tMs: number;
  readonly dueMs: number;
  readonly gone: boolean;
}

/** The state as plain JSON. */
export interface CurrentState {
  readonly newest: readonly (readonly [key: string, newest: Newest])[];
  readonly periodMs: readonly (readonly [node: string, periodMs: number])[];
  readonly earliestMs: number | null;
}

/**
 * Tells which measurements are about now: the newest of their channel, and younger than 60 s or 3 periods of their
 * node. Only these move live values and reach alarms; what came late is history. One that is not followed in that time
 * is told to be gone, once.
 */
export function createCurrent() {
  let newest = new Map<string, Newest>();
  let periodMs = new Map<string, number>();
  // Never later than the earliest due time; a refreshed channel leaves it early, and the next pass finds the true one.
  let earliestMs: number | null = null;

  function lifeMs(channel: string): number {
    return Math.max(leastMs, periods * (periodMs.get(channel.slice(0, channel.indexOf("/"))) ?? 0));
  }

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
      if (before !== undefined && tMs < before.tMs) return false;
      const dueMs = tMs + lifeMs(channel);
      const isCurrent = nowMs < dueMs;
      keep(key, { channel, subject, quantity, tMs, dueMs, gone: !isCurrent });
      return isCurrent;
    },
    presence(presence: NodePresence): void {
      if (presence.periodMs !== null) periodMs.set(presence.node, presence.periodMs);
    },
    /** True while the newest measurement of the channel is about now. */
    isCurrent(measurement: Measurement, nowMs: number): boolean {
      return nowMs < measurement.tMs + lifeMs(measurement.channel);
    },
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
    snapshot: (): CurrentState => ({ newest: [...newest], periodMs: [...periodMs], earliestMs }),
    restore(state: CurrentState): void {
      newest = new Map(state.newest);
      periodMs = new Map(state.periodMs);
      earliestMs = state.earliestMs;
    },
  };
}
