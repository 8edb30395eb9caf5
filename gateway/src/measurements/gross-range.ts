import type { ChannelUse, Signal } from "../line/index.ts";
import { type Judged, worsen } from "./judged.ts";

/**
 * What a signal can be at all, in its own unit (uS/cm, mg/L, Cel, bar, m, L, L/min); beyond it lies a fault of the
 * probe. The spans are wider than any probe of such a line (common practice, no source).
 */
const sensorRange: Readonly<Record<Signal, readonly [number, number]>> = {
  conductivity: [0, 200_000],
  solids: [0, 200_000],
  temperature: [-20, 80],
  pressure: [-1, 100],
  level: [-0.5, 20],
  distance: [0, 20],
  volume: [-50, 1e6],
  flow: [-1000, 10_000],
  contact: [0, 1],
};

/**
 * QARTOD gross range test, limits included (US IOOS temperature and salinity manual v2.0, 2016, test 4). `said` is what
 * the probe said and is held against its own range; `value` is calibrated and is held against what can be at all.
 */
export function judgeGrossRange(use: ChannelUse, said: number, value: number, judged: Judged): void {
  const [least, most] = sensorRange[use.signal];
  if (value > most || (use.range && said > use.range.max)) worsen(judged, 4, "over-range");
  if (value < least || (use.range && said < use.range.min)) worsen(judged, 4, "under-range");
}
