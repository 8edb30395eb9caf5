import type { NodePresence } from "../readings/index.ts";

const minMs = 60_000;
const periods = 3;

/** The period that each node announced, as plain JSON. */
export type Periods = readonly (readonly [node: string, periodMs: number])[];

/** How long a measurement is about now: 60 s, or 3 periods of its node. */
export function createFreshness() {
  let periodMs = new Map<string, number>();
  return {
    /** From the time of the measurement, ms. */
    lifeMs(channel: string): number {
      if (periodMs.size === 0) return minMs;
      return Math.max(minMs, periods * (periodMs.get(channel.slice(0, channel.indexOf("/"))) ?? 0));
    },
    presence(presence: NodePresence): void {
      if (presence.periodMs !== null) periodMs.set(presence.node, presence.periodMs);
    },
    snapshot: (): Periods => [...periodMs],
    restore(state: Periods): void {
      periodMs = new Map(state);
    },
  };
}
