import { type Judged, worsen } from "./judged.ts";
import type { Place } from "./places.ts";

/** How old a temperature may be to compensate with it. */
const freshTemperatureMs = 120_000;
const kept = 16;
/** Assumed where no probe tells: 15 ± 5 °C, about 10 % of κ25 (common practice, no source). */
const assumedC = 15;

/** The last temperatures of one channel, oldest first. Plain JSON. */
export type TemperatureTrace = { readonly tMs: number; readonly tC: number }[];

/**
 * Remembers a temperature in time order; 16 stay. One that came late stays too, until the next late one: what came
 * with it is compensated by it.
 */
export function remember(trace: TemperatureTrace, tMs: number, tC: number): void {
  let place = trace.length;
  while (place > 0 && (trace[place - 1] as { tMs: number }).tMs > tMs) place -= 1;
  trace.splice(place, 0, { tMs, tC });
  if (trace.length > kept) trace.splice(place === 0 ? 1 : 0, 1);
}

/** The newest temperature at or before `tMs`, not older than 2 min; null when there is none. */
function temperatureAt(trace: TemperatureTrace | undefined, tMs: number): number | null {
  if (!trace) return null;
  for (let place = trace.length - 1; place >= 0; place -= 1) {
    const sample = trace[place] as { tMs: number; tC: number };
    if (sample.tMs <= tMs) return tMs - sample.tMs <= freshTemperatureMs ? sample.tC : null;
  }
  return null;
}

/**
 * The temperature that compensates a channel at `tMs`: its own, else the nearest along the flow, else 15 °C. Where a
 * probe had told before and no longer does, the value is suspect; where there never was one, it is only marked.
 */
export function compensationTemperature(
  traces: ReadonlyMap<string, TemperatureTrace>,
  { ownTemperature, nearTemperatures }: Place,
  tMs: number,
  judged: Judged,
): { readonly tC: number; readonly assumed: boolean } {
  const own = ownTemperature === null ? undefined : traces.get(ownTemperature);
  const ownC = temperatureAt(own, tMs);
  if (ownC !== null) return { tC: ownC, assumed: false };
  let told = own !== undefined;
  for (const channel of nearTemperatures) {
    const near = traces.get(channel);
    const tC = temperatureAt(near, tMs);
    if (tC !== null) {
      if (own) worsen(judged, 3, "temperature-lost");
      else worsen(judged, 1, "temperature-borrowed");
      return { tC, assumed: false };
    }
    told ||= near !== undefined;
  }
  if (told) worsen(judged, 3, "temperature-lost");
  else worsen(judged, 1, "temperature-assumed");
  return { tC: assumedC, assumed: true };
}
