import type { NodePresence } from "../readings/index.ts";
import type { Measurement } from "./measurement.ts";

const leastMs = 60_000;
const periods = 3;

/** The state as plain JSON. */
export interface CurrentState {
  readonly newestMs: Readonly<Record<string, number>>;
  readonly periodMs: Readonly<Record<string, number>>;
}

/**
 * Tells which measurements are about now: the newest of their channel, and younger than 60 s or 3 periods of their
 * node. Only these move live values and reach alarms; what came late is history.
 */
export function createCurrent() {
  const newestMs = new Map<string, number>();
  const periodMs = new Map<string, number>();
  return {
    /** True when the measurement is about now. */
    take(measurement: Measurement, nowMs: number): boolean {
      const key = `${measurement.channel} ${measurement.quantity}`;
      const newest = newestMs.get(key);
      if (newest !== undefined && measurement.tMs < newest) return false;
      newestMs.set(key, measurement.tMs);
      const node = measurement.channel.slice(0, measurement.channel.indexOf("/"));
      return nowMs - measurement.tMs < Math.max(leastMs, periods * (periodMs.get(node) ?? 0));
    },
    presence(presence: NodePresence): void {
      if (presence.periodMs !== null) periodMs.set(presence.node, presence.periodMs);
    },
    snapshot: (): CurrentState => ({
      newestMs: Object.fromEntries(newestMs),
      periodMs: Object.fromEntries(periodMs),
    }),
    restore(state: CurrentState): void {
      newestMs.clear();
      periodMs.clear();
      for (const [key, value] of Object.entries(state.newestMs)) newestMs.set(key, value);
      for (const [key, value] of Object.entries(state.periodMs)) periodMs.set(key, value);
    },
  };
}
