import type { Reading } from "./reading.ts";

/** Orders readings by time, temperatures before what they compensate, then by channel name. */
export function byTimeThenTemperature(a: Reading, b: Reading): number {
  if (a.tMs !== b.tMs) return a.tMs - b.tMs;
  const [first, second] = [
    a.unit === "Cel" || a.unit === "K" ? 0 : 1,
    b.unit === "Cel" || b.unit === "K" ? 0 : 1,
  ];
  if (first !== second) return first - second;
  return a.channel < b.channel ? -1 : a.channel > b.channel ? 1 : 0;
}
