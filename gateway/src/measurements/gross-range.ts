import { type ChannelUse, kindOf } from "../line/index.ts";
import { type Judged, worsen } from "./judged.ts";

/**
 * QARTOD gross range test, limits included (US IOOS temperature and salinity manual v2.0, 2016, test 4). `said` is what
 * the probe said and is held against its own range; `value` is calibrated and is held against what can be at all.
 */
export function judgeGrossRange(use: ChannelUse, said: number, value: number, judged: Judged): void {
  const { min, max } = kindOf(use.signal).range;
  if (value > max || (use.range && said > use.range.max)) worsen(judged, 4, "over-range");
  if (value < min || (use.range && said < use.range.min)) worsen(judged, 4, "under-range");
}
