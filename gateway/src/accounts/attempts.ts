/** How many wrong tries of one key are let through within a time. */
interface AttemptLimit {
  readonly key: string;
  readonly most: number;
  readonly withinMs: number;
}

/** Counts tries by key; bounded: the key that has been quiet longest is forgotten first. */
export interface Attempts {
  /** Notes a try of every key; when one has used up its number, notes nothing and gives the ms to wait, else 0. */
  begin(limits: readonly AttemptLimit[], nowMs: number): number;
  /** Forgets a key, after a right try. */
  forget(key: string): void;
  size(): number;
}

/** Attempts of at most `mostKeys` keys. */
export function createAttempts(mostKeys: number): Attempts {
  const tries = new Map<string, readonly number[]>();
  const recent = ({ key, withinMs }: AttemptLimit, nowMs: number) =>
    (tries.get(key) ?? []).filter((atMs) => nowMs - atMs < withinMs);
  return {
    begin(limits, nowMs) {
      const waits = limits.map((limit) => {
        const times = recent(limit, nowMs);
        const oldest = times.at(-limit.most);
        return oldest === undefined ? 0 : oldest + limit.withinMs - nowMs;
      });
      const waitMs = Math.max(0, ...waits);
      if (waitMs > 0) return waitMs;
      for (const limit of limits) {
        const times = [...recent(limit, nowMs), nowMs];
        tries.delete(limit.key);
        if (tries.size >= mostKeys) tries.delete(tries.keys().next().value as string);
        tries.set(limit.key, times);
      }
      return 0;
    },
    forget(key) {
      tries.delete(key);
    },
    size: () => tries.size,
  };
}
