import type { MgPerL } from "../quantities/index.ts";
import { gramsOfBasis, OutOfRange, requireInRange } from "../quantities/index.ts";

/** What a reading leaves possible, mg/L as Cl2. `high` is null where nothing bounds it: the strip's last colour. */
export interface ChlorineInterval {
  readonly low: MgPerL;
  readonly high: MgPerL | null;
}

/**
 * What a strip leaves possible: from halfway to the colour below, to halfway to the colour above; a reading between two
 * colours leaves what lies between them. `steps` rise strictly, at least two (OutOfRange), as does a reading outside them.
 */
export function stripInterval(reading: MgPerL, steps: readonly MgPerL[]): ChlorineInterval {
  const first = steps[0] ?? Number.NaN;
  const last = steps.at(-1) ?? Number.NaN;
  if (steps.length < 2) throw new OutOfRange("number of steps", steps.length, 2, 1000, "1");
  steps.forEach((step, place) => {
    const below = steps[place - 1];
    if (below !== undefined && !(step > below))
      throw new OutOfRange("step", step, below, last, "mg/L", "Steps must rise.");
  });
  requireInRange("reading", reading, first, last, "mg/L", "It must be on the strip.");
  const above = steps.findIndex((step) => step >= reading);
  const below = steps[above - 1];
  const next = steps[above + 1];
  if (steps[above] !== reading) return { low: below ?? 0, high: steps[above] ?? last };
  return {
    low: below === undefined ? 0 : (below + reading) / 2,
    high: next === undefined ? null : (reading + next) / 2,
  };
}

/** Combined chlorine, or that free chlorine is above total, which can't be: one of the two was misread. */
export type CombinedChlorine =
  | ({ readonly code: "ok" } & ChlorineInterval)
  | { readonly code: "free-above-total" };

/**
 * Combined chlorine (chloramines): total less free, as intervals, never under 0. Intervals that only touch leave a single
 * point for both readings: that is a misreading, not a combined chlorine of 0.
 */
export function combinedChlorine(total: ChlorineInterval, free: ChlorineInterval): CombinedChlorine {
  if (total.high !== null && total.high <= free.low) return { code: "free-above-total" };
  return {
    code: "ok",
    low: free.high === null ? 0 : Math.max(0, total.low - free.high),
    high: total.high === null ? null : total.high - free.low,
  };
}

/** Whether all, none or some of what is possible lies above a limit. */
export type AgainstLimit = "above" | "within" | "can't-tell";

/** An interval against a limit, mg/L as Cl2. "can't-tell" where the strip is too coarse for the limit. */
export function againstLimit(interval: ChlorineInterval, limitMgPerL: MgPerL): AgainstLimit {
  if (interval.low > limitMgPerL) return "above";
  return interval.high !== null && interval.high <= limitMgPerL ? "within" : "can't-tell";
}

/** Nitrogen that monochloramine sets free as ammonia, mg/L as N, at most: one N for each Cl2 of oxidizing power. */
export function nitrogenOfChloramine(chloramineMgPerL: MgPerL): MgPerL {
  return (chloramineMgPerL * gramsOfBasis("N")) / gramsOfBasis("Cl2");
}

/** Chlorine that aquatic life bears, mg/L as Cl2: EPA 440/5-84-030 (1985): averages over an hour and over four days. */
export const chlorineCriteria = {
  fresh: { acuteMgPerL: 0.019, chronicMgPerL: 0.011 },
  salt: { acuteMgPerL: 0.013, chronicMgPerL: 0.0075 },
} as const;
