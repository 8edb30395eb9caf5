import type { Reading } from "./reading.ts";

type OfChannel = Pick<Reading, "channel" | "unit">;

const isTemperature = ({ unit }: OfChannel): boolean => unit === "Cel" || unit === "K";

/** Orders what is of one time: temperatures before what they compensate, then by channel name. */
export function byTemperatureThenChannel(a: OfChannel, b: OfChannel): number {
  const isFirst = isTemperature(a);
  if (isFirst !== isTemperature(b)) return isFirst ? -1 : 1;
  return a.channel < b.channel ? -1 : a.channel > b.channel ? 1 : 0;
}

/** Orders readings by time, temperatures before what they compensate, then by channel name. */
export function byTimeThenTemperature(a: Reading, b: Reading): number {
  return a.tMs === b.tMs ? byTemperatureThenChannel(a, b) : a.tMs - b.tMs;
}
