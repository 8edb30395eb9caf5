import { requireInRange } from "../quantities/index.ts";

/**
 * What a difference in percent is a percent of, and which way it counts:
 * - `of-standard`: 100 (reading - standard) / standard, the error: above 0 reads high.
 * - `correction-of-standard`: 100 (standard - reading) / standard, as USGS TM 1-D3 writes it: above 0 reads low.
 * - `correction-of-reading`: 100 (standard - reading) / reading: what to add to a reading, in percent of it.
 * - `of-mean`: 100 |reading - standard| / their mean, the relative percent difference of duplicates: no sign.
 * - `of-span`: 100 (reading - standard) / span, as instruments state their error.
 */
export type PercentConvention =
  | "of-standard"
  | "correction-of-standard"
  | "correction-of-reading"
  | "of-mean"
  | "of-span";

/** Every convention, the usual one first. */
export const percentConventions = [
  "of-standard",
  "correction-of-standard",
  "correction-of-reading",
  "of-mean",
  "of-span",
] as const satisfies readonly PercentConvention[];

/**
 * Difference of a reading from a standard in percent, by a named convention (USGS Techniques and Methods 1-D3, 2006; EPA
 * SW-846, chapter 1, for duplicates). Reading and standard in one unit, 0 to 1e12. Throws OutOfRange where what it is a
 * percent of is 0: no percent can be told then.
 */
export function percentDifference(
  reading: number,
  standard: number,
  convention: PercentConvention,
  span = 0,
): number {
  requireInRange("reading", reading, 0, 1e12, "1");
  requireInRange("standard", standard, 0, 1e12, "1");
  const of: Readonly<Record<PercentConvention, readonly [name: string, value: number]>> = {
    "of-standard": ["standard", standard],
    "correction-of-standard": ["standard", standard],
    "correction-of-reading": ["reading", reading],
    "of-mean": ["mean of reading and standard", (reading + standard) / 2],
    "of-span": ["span", span],
  };
  const [name, whole] = of[convention];
  requireInRange(name, whole, 1e-12, 1e12, "1", "Nothing is a percent of 0.");
  const error = reading - standard;
  if (convention === "of-mean") return (100 * Math.abs(error)) / whole;
  return (100 * (convention.startsWith("correction") ? -error : error)) / whole;
}
