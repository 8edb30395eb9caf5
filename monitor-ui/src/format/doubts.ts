import { figure } from "./numbers.ts";

// A probe in a clean standard is seldom off by more; common practice, no source.
const leastFactor = 0.7;
const greatestFactor = 1.3;
// A limit is tightened or loosened by small steps; a figure so far off is most likely a slip of the point.
const greatestStep = 3;

/** What speaks against a calibration from one reading to another, uS/cm; "" when nothing does. */
export function doubtOfCalibration(reads: number, becomes: number): string {
  const factor = becomes / reads;
  if (factor >= leastFactor && factor <= greatestFactor) return "";
  const percent = (factor - 1) * 100;
  return `${percent > 0 ? "+" : "−"}${Math.abs(percent).toFixed(0)} % is a lot. Rinse, wait a minute, read again.`;
}

/** What speaks against a new limit, uS/cm at 25 °C; `supply` is null where nothing tells it. "" when nothing does. */
export function doubtOfLimit(now: number, becomes: number, supply: number | null): string {
  if (supply !== null && becomes >= supply)
    return `The supply itself is at ${figure(supply)} µS/cm: an alarm would never ring.`;
  if (becomes > now * greatestStep || becomes < now / greatestStep)
    return `${becomes} is far from ${now}, the limit until now.`;
  return "";
}
