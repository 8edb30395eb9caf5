import type { Stretch } from "./curve.ts";
import { between, spanOf, type Window } from "./window.ts";

const dayMs = 86_400_000;
/** What the strip under the charts may span, days. */
const spansDays = [1, 14, 90, 731] as const;
/** The window is at most this share of the strip, so that there is room to move. */
const maxShare = 1 / 3;
/** The two ends of what is shown stay so far apart, as a share of the strip. */
const minShare = 1 / 200;

/** What the strip under the charts spans: up to now, the shortest in which the window has room. */
export function stripOf(window: Window, nowMs: number): Stretch {
  const days =
    spansDays.find(
      (count) => window.fromMs >= nowMs - count * dayMs && spanOf(window) <= count * dayMs * maxShare,
    ) ?? spansDays[spansDays.length - 1];
  return { fromMs: nowMs - (days ?? 731) * dayMs, toMs: nowMs };
}

/** Which end of the window is moved, or the whole. */
export type Grip = "from" | "to" | "whole";

/** The window after a grip was moved to a time; ends don't pass each other, nothing leaves the strip. */
export function gripped(
  window: Window,
  grip: Grip,
  ms: number,
  { strip, nowMs }: { readonly strip: Stretch; readonly nowMs: number },
): Window {
  const leastMs = (strip.toMs - strip.fromMs) * minShare;
  const inside = (low: number, high: number) => Math.min(high, Math.max(low, ms));
  if (grip === "from") return between(inside(strip.fromMs, window.toMs - leastMs), window.toMs, nowMs);
  if (grip === "to") return between(window.fromMs, inside(window.fromMs + leastMs, strip.toMs), nowMs);
  const span = spanOf(window);
  const fromMs = inside(strip.fromMs, strip.toMs - span);
  return between(fromMs, fromMs + span, nowMs);
}

/** Where a key moves a grip to; null where it does nothing. Shift goes five times as far. */
export function keyed(
  key: string,
  isFar: boolean,
  { atMs, strip }: { readonly atMs: number; readonly strip: Stretch },
): number | null {
  const step = ((strip.toMs - strip.fromMs) / 100) * (isFar ? 5 : 1);
  switch (key) {
    case "ArrowLeft":
    case "ArrowDown":
      return atMs - step;
    case "ArrowRight":
    case "ArrowUp":
      return atMs + step;
    case "Home":
      return strip.fromMs;
    case "End":
      return strip.toMs;
    default:
      return null;
  }
}
