import type { AlarmView, LineView } from "@drumlin/gateway/contract";
import { computed, signal } from "@preact/signals";

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

const lostAfterMs = 3000;
/** Whether the stream has been away for longer than a short break: then nothing on the page is fresh. */
export const lost = computed(() => !link.value.open && nowMs.value - link.value.sinceMs > lostAfterMs);
/** What went wrong with the last act; "" when it went well. */
export const lastProblem = signal("");

/** What the keeper calls a point or drum; its id where the line has none such. */
export function titleOf(id: string): string {
  const { points = [], drums = [] } = line.value ?? {};
  return points.find((point) => point.id === id)?.title ?? drums.find((drum) => drum.id === id)?.title ?? id;
}
