import type { AlarmView, RejectionView } from "@drumlin/gateway/contract";
import { ask, type Sent, send } from "./send.ts";
import { alarms } from "./state.ts";

/** Acts on one occurrence of an alarm. */
export async function actOnAlarm(
  alarm: AlarmView,
  act: "acknowledge" | "unacknowledge" | "shelve" | "unshelve" | "reset" | "out-of-service" | "in-service",
  more: { minutes?: number; days?: number; note?: string; float?: "moved" | "failed" | "unknown" } = {},
): Promise<Sent> {
  const sent = await send<{ items: AlarmView[] }>(`/api/alarms/${encodeURIComponent(alarm.key)}/${act}`, {
    occurrence: alarm.occurrence,
    ...more,
  });
  if (sent.taken) alarms.value = sent.told.items;
  return sent;
}

/** What was refused lately, by name, with examples; null when it can't be had. */
export async function recentRejections(): Promise<readonly RejectionView[] | null> {
  const answer = await ask<{ items: RejectionView[] }>("/api/rejections");
  return answer?.items ?? null;
}
