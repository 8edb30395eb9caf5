import type { Slot } from "../line/index.ts";
import { type Judged, worsen } from "./judged.ts";

/** How old a temperature may be to compensate with it. */
const freshTemperatureMs = 120_000;
const maxKept = 16;
/** Assumed where no probe tells: 15 ± 5 °C, about 10 % of κ25 (common practice, no source). */
const assumedC = 15;
/** No two places of one stream lie further apart: one of two thermometers that do is wrong, K (common practice, no source). */
const mostApartC = 20;

/** The last temperatures of one channel, oldest first. Plain JSON. */
export type TemperatureTrace = { readonly tMs: number; readonly tC: number }[];

/**
 * Remembers a temperature in time order; 16 stay. One that came late stays too, until the next late one: what came
 * with it is compensated by it.
 */
export function remember(trace: TemperatureTrace, tMs: number, tC: number): void {
  let index = trace.length;
  while (index > 0 && (trace[index - 1] as { tMs: number }).tMs > tMs) index -= 1;
  if (index === trace.length) {
    trace.push({ tMs, tC });
    if (trace.length > maxKept) trace.shift();
    return;
  }
  trace.splice(index, 0, { tMs, tC });
  if (trace.length > maxKept) trace.splice(index === 0 ? 1 : 0, 1);
}

/** The newest temperature at or before `tMs`, not older than 2 min; null when there is none. */
function temperatureAt(trace: TemperatureTrace | null, tMs: number): number | null {
  if (!trace) return null;
  for (let index = trace.length - 1; index >= 0; index -= 1) {
    const sample = trace[index] as { tMs: number; tC: number };
    if (sample.tMs <= tMs) return tMs - sample.tMs <= freshTemperatureMs ? sample.tC : null;
  }
  return null;
}

/**
 * A probe's own temperature, held against those along the flow. Where they lie further apart than one stream can, most of
 * them decide, and of two the lower one: by it more ions are in the water.
 */
function agreed(ownC: number, nearC: readonly number[], judged: Judged): number {
  if (nearC.every((tC) => Math.abs(tC - ownC) <= mostApartC)) return ownC;
  const told = [ownC, ...nearC].sort((one, other) => one - other);
  const tC = told[Math.floor((told.length - 1) / 2)] as number;
  if (told.length > 2 && Math.abs(tC - ownC) <= mostApartC) return ownC;
  worsen(judged, 3, "temperature-disagrees");
  return tC;
}

/**
 * The temperature that compensates a channel at `tMs`: its own, else the nearest along the flow, else 15 °C. Where a
 * probe had told before and no longer does, the value is suspect; where there never was one, it is only marked.
 */
export function compensationTemperature(
  memory: { temperaturesOf(channel: string): TemperatureTrace | null },
  { ownTemperature, nearTemperatures }: Pick<Slot, "ownTemperature" | "nearTemperatures">,
  tMs: number,
  judged: Judged,
): { readonly tC: number; readonly assumed: boolean } {
  const own = ownTemperature === null ? null : memory.temperaturesOf(ownTemperature);
  const ownC = temperatureAt(own, tMs);
  if (ownC !== null) {
    const nearC = nearTemperatures.flatMap(
      (channel) => temperatureAt(memory.temperaturesOf(channel), tMs) ?? [],
    );
    return { tC: agreed(ownC, nearC, judged), assumed: false };
  }
  let told = own !== null;
  for (const channel of nearTemperatures) {
    const near = memory.temperaturesOf(channel);
    const tC = temperatureAt(near, tMs);
    if (tC !== null) {
      if (own) worsen(judged, 3, "temperature-lost");
      else worsen(judged, 1, "temperature-borrowed");
      return { tC, assumed: false };
    }
    told ||= near !== null;
  }
  if (told) worsen(judged, 3, "temperature-lost");
  else worsen(judged, 1, "temperature-assumed");
  return { tC: assumedC, assumed: true };
}
