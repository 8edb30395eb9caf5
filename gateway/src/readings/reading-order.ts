import type { Reading } from "./reading.ts";

const isTemperature = ({ unit }: Reading): boolean => unit === "Cel" || unit === "K";

/** Orders readings by time, temperatures before what they compensate, then by channel name. */
export function byTimeThenTemperature(a: Reading, b: Reading): number {
  if (a.tMs !== b.tMs) return a.tMs - b.tMs;
  const isFirst = isTemperature(a);
  if (isFirst !== isTemperature(b)) return isFirst ? -1 : 1;
  return a.channel < b.channel ? -1 : a.channel > b.channel ? 1 : 0;
}
