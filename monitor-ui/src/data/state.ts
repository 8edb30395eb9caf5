import type { AlarmView, LineView } from "@drumlin/gateway/contract";
import { computed, signal } from "@preact/signals";
import { say, w } from "../words/words.ts";

/** The line as the gateway last told it; null before the first snapshot. */
export const line = signal<LineView | null>(null);
/** Alarms that are not at rest. */
export const alarms = signal<readonly AlarmView[]>([]);
/** Whether the live stream is open, and since when not. */
export const link = signal<{ readonly open: boolean; readonly sinceMs: number }>({
  open: false,
  sinceMs: Date.now(),
});
/** Now, by the second: ages are counted from it. */
export const nowMs = signal(Date.now());
/** Gateway time minus this machine's, ms. */
export const gatewayAheadMs = signal(0);
/** Now by the gateway's clock, epoch ms: what its times are compared with. */
export const gatewayNowMs = computed(() => nowMs.value + gatewayAheadMs.value);

/** When the gateway was last heard on the live stream, by this machine's clock, epoch ms. */
export const heardMs = signal(Date.now());

/** When the gateway was last heard, by its own clock, epoch ms. */
export const gatewayHeardMs = computed(() => heardMs.value + gatewayAheadMs.value);

/** Whether the tab is hidden and silent: it holds no stream then, and asks now and then. */
export const isResting = signal(false);

// Browsers let a hidden tab's clock tick once a minute.
const restingSilentAfterMs = 150_000;
// A cut is known at once and given a short break; a stream that hangs shows only by its missing heartbeats.
const cutAfterMs = 3000;
const silentAfterMs = 15_000;
/** Whether the gateway is not heard any more: then nothing on the page is fresh, and no act is sent. */
export const lost = computed(() => {
  const silentMs = nowMs.value - heardMs.value;
  if (isResting.value) return silentMs > restingSilentAfterMs;
  return silentMs > silentAfterMs || (!link.value.open && nowMs.value - link.value.sinceMs > cutAfterMs);
});

/** What the keeper calls a point, drum or stage; its id where the line has none such. */
export function titleOf(id: string): string {
  const { points = [], drums = [], stages = [] } = line.value ?? {};
  const drum = drums.find(({ floats }) => floats.some((float) => float.id === id));
  const float = drum?.floats.find((one) => one.id === id);
  if (drum && float) return say(w.frame.float, { title: drum.title, role: w.floatRoles[float.role] });
  return [...points, ...drums, ...stages].find((one) => one.id === id)?.title ?? id;
}
