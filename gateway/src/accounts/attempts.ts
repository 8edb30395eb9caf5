/** How many tries of one key are let through: `burst` at once, then one more each `everyMs`. */
export interface TryLimit {
  readonly key: string;
  readonly burst: number;
  readonly everyMs: number;
}

/** Counts tries by key: it makes guessing slow and never shuts. Bounded: the key that has been quiet longest is forgotten first. */
export interface Attempts {
  /** Takes one try of every key; when one has none left, takes nothing and gives the ms until it has one, else 0. */
  begin(limits: readonly TryLimit[], nowMs: number): number;
  /** Gives back what a try took that turned out to be right. */
  giveBack(limits: readonly TryLimit[], nowMs: number): void;
  size(): number;
}

/** Attempts of at most `maxKeys` keys. */
export function createAttempts(maxKeys: number): Attempts {
  /** When each key has all of its tries again, ms (the generic cell rate algorithm of ITU-T I.371). */
  const wholeAtMs = new Map<string, number>();
  const wholeAt = ({ key, burst, everyMs }: TryLimit, nowMs: number) =>
    Math.min(Math.max(wholeAtMs.get(key) ?? nowMs, nowMs), nowMs + burst * everyMs);
  return {
    begin(limits, nowMs) {
      const after = limits.map((limit) => wholeAt(limit, nowMs) + limit.everyMs);
      const waits = limits.map(({ burst, everyMs }, index) => Number(after[index]) - burst * everyMs - nowMs);
      const waitMs = Math.max(0, ...waits);
      if (waitMs > 0) return waitMs;
      for (const [index, { key }] of limits.entries()) {
        wholeAtMs.delete(key);
        if (wholeAtMs.size >= maxKeys) wholeAtMs.delete(wholeAtMs.keys().next().value as string);
        wholeAtMs.set(key, Number(after[index]));
      }
      return 0;
    },
    giveBack(limits, nowMs) {
      for (const { key, everyMs } of limits) {
        const whole = (wholeAtMs.get(key) ?? 0) - everyMs;
        if (whole <= nowMs) wholeAtMs.delete(key);
        else wholeAtMs.set(key, whole);
      }
    },
    size: () => wholeAtMs.size,
  };
}
