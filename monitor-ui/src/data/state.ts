import type { AlarmView, LineView } from "@drumlin/gateway/contract";
import { signal } from "@preact/signals";

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
/** What went wrong with the last act; "" when it went well. */
export const lastProblem = signal("");
