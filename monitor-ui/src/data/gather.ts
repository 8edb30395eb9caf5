import type { LineView } from "@drumlin/gateway/contract";
import { batch } from "@preact/signals";
import { line, nowMs } from "./state.ts";

// A number changes once a second at most; what comes together (one pack, many points) is drawn together.
const gatherMs = 50;
const drawnEveryMs = 1000;

type Change = (line: LineView) => LineView;
const waiting = new Map<string, Change>();
let drawnMs = 0;
let drawing: ReturnType<typeof setTimeout> | undefined;

/** Puts what was gathered on the page, at once. */
export function drawGathered(): void {
  clearTimeout(drawing);
  drawing = undefined;
  if (waiting.size === 0) return;
  const changes = [...waiting.values()];
  waiting.clear();
  drawnMs = Date.now();
  batch(() => {
    if (line.value) line.value = changes.reduce((shown, change) => change(shown), line.value);
    nowMs.value = drawnMs;
  });
}

/** Keeps the newest change of a part until it is drawn. */
export function gather(part: string, change: Change): void {
  waiting.set(part, change);
  drawing ??= setTimeout(drawGathered, Math.max(gatherMs, drawnMs + drawnEveryMs - Date.now()));
}

/** The whole line comes anew: what was gathered is in it. */
export function forgetGathered(): void {
  waiting.clear();
}
