import { say } from "../../words/index.ts";
import type { BatchNow } from "./batch.ts";
import { offMs, probeLifeMs, steadyMs, steadyWithin } from "./batch-limits.ts";

/** The salinities between which a batch is ready. */
export type Band = { readonly low: number; readonly high: number } | null;

const minuteMs = 60_000;
/** A salinity with one digit. */
export const figure = (value: number): number => Math.round(value * 10) / 10;

/** The ends of a band, for sentences. */
export const bandFigures = ({ low, high }: NonNullable<Band>) => ({ low: figure(low), high: figure(high) });

/** Whether a salinity lies in the band; any does where there is none. */
export const isInBand = (band: Band, salinity: number): boolean =>
  band === null || (salinity >= band.low && salinity <= band.high);

/** Remembers a salinity that the drum's probe read. */
export function takeSalinity(now: BatchNow, salinity: number, tMs: number): void {
  now.salinity = salinity;
  now.salinityBy = "probe";
  // What was not read for a while may have been anything meanwhile.
  if (now.probedMs !== null && tMs - now.probedMs > probeLifeMs) now.minutes = [];
  now.probedMs = tMs;
  const last = now.minutes.at(-1);
  if (last && tMs - last.tMs < minuteMs)
    now.minutes[now.minutes.length - 1] = {
      tMs: last.tMs,
      min: Math.min(last.min, salinity),
      max: Math.max(last.max, salinity),
    };
  else now.minutes.push({ tMs, min: salinity, max: salinity });
  while ((now.minutes[1]?.tMs ?? Number.POSITIVE_INFINITY) <= tMs - steadyMs) now.minutes.shift();
}

/** Whether its probe has read one salinity for half an hour, give or take 0.2. */
export function isSteady({ minutes, probedMs }: BatchNow): boolean {
  const [first] = minutes;
  if (!first || probedMs === null || probedMs - first.tMs < steadyMs) return false;
  const least = Math.min(...minutes.map(({ min }) => min));
  const most = Math.max(...minutes.map(({ max }) => max));
  return most - least <= 2 * steadyWithin;
}

/** Follows whether it has been out of its band for a while, by its probe. */
export function followBand(now: BatchNow, band: Band, tMs: number): void {
  const isOut = now.salinity !== null && !isInBand(band, now.salinity);
  now.offSinceMs = isOut ? (now.offSinceMs ?? tMs) : null;
  now.isOff = now.offSinceMs !== null && tMs - now.offSinceMs >= offMs;
}

/** What keeps a batch from being ready, in words; `isProbed`: the drum has a probe of its own. */
export function waitsOf(
  now: BatchNow,
  band: Band,
  { nowMs, isProbed }: { nowMs: number; isProbed: boolean },
): string[] {
  const waits: string[] = [];
  const { salinity } = now;
  if (salinity !== null && !isInBand(band, salinity) && band !== null)
    waits.push(say("salinity-wanted", { salinity: figure(salinity), ...bandFigures(band) }));
  if (!isProbed) waits.push(say("no-drum-probe"));
  else if (now.probedMs === null || nowMs - now.probedMs > probeLifeMs) waits.push(say("drum-probe-silent"));
  else if (!isSteady(now)) waits.push(say("salinity-moves"));
  if (nowMs - now.addedMs < steadyMs) waits.push(say("just-added"));
  return waits;
}
