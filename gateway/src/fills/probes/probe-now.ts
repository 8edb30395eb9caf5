/** How long a probe of conductivity has stood on one value. Plain data; replaced, never changed. */
export interface ProbeNow {
  readonly channel: string;
  /** The value that it stands on, uS/cm, within one step of its resolution. */
  readonly standsAt: number;
  readonly sinceMs: number;
  readonly lastMs: number;
  /** Runs of water that ended since, and first waters among them. */
  readonly runs: number;
  readonly firstWaters: number;
  /** The water's temperatures meanwhile, °C; null where none was read. */
  readonly coldestC: number | null;
  readonly warmestC: number | null;
  /** Its smallest step, uS/cm; absent in rows of versions before. */
  readonly step?: number;
}

/** Runs over which a probe stands still before it is not believed, if the line says no other. */
export const flatRuns = 3;
/** Nearer to its resolution a probe is flat in good water (common practice, no source). */
const leastSteps = 20;
const leastChangeC = 2;

/** First water that differs by nothing may be good water; so often it is not (common practice, no source). */
const stuckRuns = 6;

/** Its word is not taken any more: it stood still though the water's temperature moved, or over many first waters. */
export function isStuck(probe: ProbeNow | undefined): boolean {
  const isWarmer = (probe?.warmestC ?? 0) - (probe?.coldestC ?? 0) > leastChangeC;
  return isFlat(probe, isWarmer ? flatRuns : stuckRuns);
}

/** It stands on one value over so many runs, though the water's temperature moved by more than 2 °C or first water came. */
export function isFlat(probe: ProbeNow | undefined, runs = flatRuns): boolean {
  if (probe?.step === undefined || probe.runs < runs) return false;
  const moved = (probe.warmestC ?? 0) - (probe.coldestC ?? 0) > leastChangeC || probe.firstWaters > 0;
  return moved && probe.standsAt > leastSteps * probe.step;
}

/** What is known of a probe has changed: for whoever judges it. */
export interface ProbeChanged {
  readonly kind: "probe-now";
  readonly channel: string;
}

/** A probe that says something else than before. */
const standing = (channel: string, value: number, tMs: number, step: number): ProbeNow => ({
  channel,
  step,
  standsAt: value,
  sinceMs: tMs,
  lastMs: tMs,
  runs: 0,
  firstWaters: 0,
  coldestC: null,
  warmestC: null,
});

/** A value that lies within one step of what the probe stands on leaves it standing. */
export function takeValue(
  now: ProbeNow | undefined,
  { channel, value, tMs }: { readonly channel: string; readonly value: number; readonly tMs: number },
  step: number,
): ProbeNow {
  if (!now || Math.abs(value - now.standsAt) >= step) return standing(channel, value, tMs, step);
  return now;
}

/** The water's temperature while it stands. */
export function takeTemperature(now: ProbeNow, tC: number): ProbeNow {
  const coldestC = Math.min(now.coldestC ?? tC, tC);
  const warmestC = Math.max(now.warmestC ?? tC, tC);
  return coldestC === now.coldestC && warmestC === now.warmestC ? now : { ...now, coldestC, warmestC };
}
