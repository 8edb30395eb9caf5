/** A drum's last litres, oldest first. Plain JSON. */
export type LevelTrace = { readonly tMs: number; readonly litres: number }[];

const windowMs = 90_000;
const leastSpanMs = 15_000;
const most = 60;
/** A rise under this is noise, L/min (common practice, no source). */
const leastRiseLPerMin = 0.4;

/**
 * Adds a level and gives how fast the drum rises, L/min, by the Theil–Sen slope (median of all pairs' slopes: Sen,
 * J. Am. Stat. Assoc. 63 (1968) 1379) over the last 90 s; 0 when it doesn't rise; null while too little is known.
 */
export function riseLPerMin(trace: LevelTrace, tMs: number, litres: number): number | null {
  const last = trace.at(-1);
  if (last && tMs <= last.tMs) return null;
  trace.push({ tMs, litres });
  while (trace.length > most || (trace.length > 3 && (trace[0] as { tMs: number }).tMs < tMs - windowMs))
    trace.shift();
  const first = trace[0] as { tMs: number };
  if (trace.length < 3 || tMs - first.tMs < leastSpanMs) return null;
  const slopes: number[] = [];
  const step = Math.ceil(trace.length / 20);
  for (let i = 0; i < trace.length; i += step) {
    for (let j = i + step; j < trace.length; j += step) {
      const [a, b] = [trace[i], trace[j]] as [LevelTrace[number], LevelTrace[number]];
      slopes.push(((b.litres - a.litres) / (b.tMs - a.tMs)) * 60_000);
    }
  }
  slopes.sort((a, b) => a - b);
  const middle = slopes.length >> 1;
  const median =
    slopes.length % 2 === 1
      ? (slopes[middle] as number)
      : ((slopes[middle - 1] as number) + (slopes[middle] as number)) / 2;
  return median > leastRiseLPerMin ? median : 0;
}

/** Where a rise began: the last moment of the lowest level that is remembered; null while none is. */
export function beginOfRise(trace: LevelTrace | undefined): LevelTrace[number] | null {
  if (!trace || trace.length === 0) return null;
  return trace.reduce((lowest, sample) => (sample.litres <= lowest.litres ? sample : lowest));
}
