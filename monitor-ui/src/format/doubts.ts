import { say, w } from "../words/words.ts";
import { whole } from "./numbers.ts";
import { conductivity25 } from "./units.ts";

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
  return say(w.point.aLot, { percent: `${percent > 0 ? "+" : "−"}${whole(Math.abs(percent))}` });
}

/** What speaks against a new limit, uS/cm at 25 °C; `supply` is null where nothing tells it. "" when nothing does. */
export function doubtOfLimit(now: number, becomes: number, supply: number | null): string {
  if (supply !== null && becomes >= supply)
    return say(w.point.supplyItself, { value: conductivity25(supply) });
  if (becomes > now * greatestStep || becomes < now / greatestStep)
    return say(w.point.farFrom, { value: conductivity25(becomes), before: conductivity25(now) });
  return "";
}
