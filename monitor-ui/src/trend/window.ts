/** The time that the trend shows. */
export interface Window {
  readonly fromMs: number;
  readonly toMs: number;
  /** Its end is now, and goes on with it. */
  readonly live: boolean;
}

const minMs = 2 * 60_000;
const maxMs = 731 * 86_400_000;
const hourMs = 3_600_000;

/** The span of a window, ms. */
export const spanOf = ({ fromMs, toMs }: Window) => toMs - fromMs;

/** The last hours, going on with now. */
export const lastHours = (hours: number, nowMs: number): Window => ({
  fromMs: nowMs - hours * hourMs,
  toMs: nowMs,
  live: true,
});

/** A window as it can be shown: 2 min to two years long, never past now; one that touches now goes on with it. */
function fitted(fromMs: number, spanMs: number, nowMs: number): Window {
  const span = Math.min(maxMs, Math.max(minMs, spanMs));
  const toMs = Math.min(nowMs, fromMs + span);
  // What ends a hair before now is meant to be now.
  const live = nowMs - toMs < span / 500;
  return live ? { fromMs: nowMs - span, toMs: nowMs, live } : { fromMs: toMs - span, toMs, live };
}

/** Moved by so much time, later where positive. */
export const moved = (window: Window, byMs: number, nowMs: number): Window =>
  fitted(window.fromMs + byMs, spanOf(window), nowMs);

/** Made longer (over 1) or shorter by a factor, with one time staying where it is. */
export function zoomed(window: Window, factor: number, aroundMs: number, nowMs: number): Window {
  const span = Math.min(maxMs, Math.max(minMs, spanOf(window) * factor));
  const share = (aroundMs - window.fromMs) / spanOf(window);
  return fitted(aroundMs - share * span, span, nowMs);
}

/** A window between two times, in any order. */
export const between = (aMs: number, bMs: number, nowMs: number): Window =>
  fitted(Math.min(aMs, bMs), Math.abs(bMs - aMs), nowMs);

/** What a link says of the time: `hours` for one that goes on with now, `from` and `to` (epoch s) for one that stands. */
export function toLink(window: Window): Record<string, string> {
  if (window.live) return { hours: String(Math.round((spanOf(window) / hourMs) * 1000) / 1000) };
  return { from: String(Math.round(window.fromMs / 1000)), to: String(Math.round(window.toMs / 1000)) };
}

/** The window that a link names; the last day where it names none that can be. */
export function ofLink(parameters: URLSearchParams, nowMs: number): Window {
  const [from, to] = [Number(parameters.get("from")), Number(parameters.get("to"))];
  if (from > 0 && to > from) return fitted(from * 1000, (to - from) * 1000, nowMs);
  const hours = Number(parameters.get("hours") ?? 24);
  const good = hours > 0 && Number.isFinite(hours) ? hours : 24;
  return fitted(nowMs - good * hourMs, good * hourMs, nowMs);
}
