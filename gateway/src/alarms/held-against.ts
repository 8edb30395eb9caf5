import type { Verdict } from "./condition.ts";
import type { ValidReading } from "./reading-of.ts";

/** A reading held against what it may be at most; unknown where there is none of either. */
export function overLimit(reading: ValidReading | null, limit: number | null): Verdict {
  if (!reading || limit === null) return { is: "unknown", value: reading?.value ?? null };
  const { value, tMs } = reading;
  return { is: value > limit, value, limit, beyond: value - limit, tMs };
}

/** A reading held against a band: by the end of it that is nearer, or that it is past; unknown where there is none. */
export function outOfBand(reading: ValidReading | null, low: number, high: number): Verdict {
  if (!reading) return { is: "unknown", value: null };
  const { value, tMs } = reading;
  const isLow = low - value > value - high;
  const beyond = isLow ? low - value : value - high;
  return { is: beyond > 0, value, limit: isLow ? low : high, beyond, tMs };
}
