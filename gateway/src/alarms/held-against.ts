import type { Verdict } from "./condition.ts";
import type { ValidReading } from "./reading-of.ts";

/** A reading held against what it may be at most. */
export const overLimit = ({ value, tMs }: ValidReading, limit: number): Verdict => ({
  is: value > limit,
  value,
  limit,
  beyond: value - limit,
  tMs,
});

/** A reading held against a band: by the end of it that is nearer, or that it is past. */
export function outOfBand({ value, tMs }: ValidReading, low: number, high: number): Verdict {
  const isLow = low - value > value - high;
  const beyond = isLow ? low - value : value - high;
  return { is: beyond > 0, value, limit: isLow ? low : high, beyond, tMs };
}
