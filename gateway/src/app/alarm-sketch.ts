import { type Line, type MeasuredQuantity, seriesNameOf } from "../line/index.ts";
import type { Call } from "../notifications/index.ts";
import type { SeriesStore } from "../series/index.ts";
import { sketch } from "./sketch.ts";

const hoursMs = 6 * 3_600_000;
const buckets = 180;

const quantities: Readonly<Record<string, MeasuredQuantity>> = {
  "uS/cm": "conductivity25",
  Cel: "temperature",
  L: "volume",
};

/** The last six hours of what an alarm goes by, with its limit, as a small PNG; null where there is nothing to draw. */
export async function alarmSketch(
  { alarm }: Call,
  {
    series,
    line,
    nowMs,
  }: { readonly series: Pick<SeriesStore, "buckets">; readonly line: Line | null; readonly nowMs: number },
): Promise<Buffer | null> {
  const quantity = quantities[alarm.unit];
  const isPoint = line?.points.some(({ id }) => id === alarm.subject);
  const isDrum = line?.drums.some(({ id }) => id === alarm.subject);
  if (quantity === undefined || (!isPoint && !isDrum)) return null;
  const kind = quantity === "volume" || !isPoint ? "drum" : "point";
  const name = seriesNameOf({ kind, id: alarm.subject }, quantity);
  const { mean } = await series.buckets(name, nowMs - hoursMs, nowMs, buckets);
  return sketch(mean, alarm.limit);
}
