/** How old a temperature may be to compensate with it. */
const freshTemperatureMs = 120_000;
const kept = 16;

/** The last temperatures of one channel, oldest first. Plain JSON. */
export type TemperatureTrace = { readonly tMs: number; readonly tC: number }[];

/** Remembers a temperature; the last 16 stay, in time order. */
export function remember(trace: TemperatureTrace, tMs: number, tC: number): void {
  let place = trace.length;
  while (place > 0 && (trace[place - 1] as { tMs: number }).tMs > tMs) place -= 1;
  trace.splice(place, 0, { tMs, tC });
  if (trace.length > kept) trace.shift();
}

/** The newest temperature at or before `tMs`, not older than 2 min; null when there is none. */
export function temperatureAt(trace: TemperatureTrace | undefined, tMs: number): number | null {
  if (!trace) return null;
  for (let place = trace.length - 1; place >= 0; place -= 1) {
    const sample = trace[place] as { tMs: number; tC: number };
    if (sample.tMs <= tMs) return tMs - sample.tMs <= freshTemperatureMs ? sample.tC : null;
  }
  return null;
}
