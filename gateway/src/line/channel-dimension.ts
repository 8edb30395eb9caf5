import type { Dimension } from "../quantities/index.ts";
import type { Signal } from "./line.ts";

/** In which dimension a channel's resolution is written. */
export const dimensionOf: Readonly<Record<Signal, Dimension>> = {
  conductivity: "conductivity",
  solids: "concentration",
  temperature: "temperature",
  pressure: "pressure",
  level: "length",
  distance: "length",
  volume: "volume",
  flow: "flow",
  contact: "length",
};

/**
 * A resolution in the channel's own unit. Pressures are measured in bar and their dimension's unit is kPa;
 * a bare number is in the channel's unit already.
 */
export function inChannelUnit(signal: Signal, written: string | number, value: number): number {
  const bare = typeof written === "number" || /^[\s\d.,+-]+$/.test(written);
  return signal === "pressure" && !bare ? value / 100 : value;
}
