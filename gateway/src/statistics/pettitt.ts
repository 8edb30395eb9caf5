import { requireInRange } from "../quantities/index.ts";

/** Where the middle of a series shifted most, and how surely. */
export interface Pettitt {
  /** Greatest distance of the rank sum from what no shift would give. */
  readonly statistic: number;
  /** Approximate two-sided probability where there is no shift; good up to 0.5, and never told above 1. */
  readonly p: number;
  /** 1-based place of the last value before the shift. */
  readonly shiftAfter: number;
  /** Whether the values after the shift are greater, or smaller; null where no shift shows at all. */
  readonly direction: "up" | "down" | null;
}

/**
 * Pettitt's change point of values in their order: Pettitt, Appl. Statist. 28 (1979) 126. A smooth trend gives a point
 * too (about its middle), so ask for a trend first. Throws OutOfRange for fewer than 2 values.
 */
export function pettitt(values: readonly number[]): Pettitt {
  const n = values.length;
  requireInRange("number of values", n, 2, 100_000, "1");
  let sum = 0;
  let greatest = 0;
  let shiftAfter = 1;
  for (let place = 0; place < n - 1; place += 1) {
    const value = values[place] as number;
    for (const other of values) sum += Math.sign(value - other);
    if (Math.abs(sum) <= Math.abs(greatest)) continue;
    greatest = sum;
    shiftAfter = place + 1;
  }
  const statistic = Math.abs(greatest);
  return {
    statistic,
    p: Math.min(1, 2 * Math.exp((-6 * statistic ** 2) / (n ** 3 + n ** 2))),
    shiftAfter,
    direction: greatest === 0 ? null : greatest < 0 ? "up" : "down",
  };
}
