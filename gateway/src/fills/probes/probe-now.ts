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
}

/** What is known of a probe has changed: for whoever judges it. */
export interface ProbeChanged {
  readonly kind: "probe-now";
  readonly channel: string;
}

/** A probe that says something else than before. */
const standing = (channel: string, value: number, tMs: number): ProbeNow => ({
  channel,
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
  if (!now || Math.abs(value - now.standsAt) >= step) return standing(channel, value, tMs);
  return now;
}

/** The water's temperature while it stands. */
export function takeTemperature(now: ProbeNow, tC: number): ProbeNow {
  const coldestC = Math.min(now.coldestC ?? tC, tC);
  const warmestC = Math.max(now.warmestC ?? tC, tC);
  return coldestC === now.coldestC && warmestC === now.warmestC ? now : { ...now, coldestC, warmestC };
}
