import type { AlarmView, Buckets, Problem, RejectionView } from "@drumlin/gateway/contract";
import { alarms, gatewayAheadMs, lastProblem } from "./state.ts";

/** Acts on one occurrence of an alarm; what went wrong stands in `lastProblem`. */
export async function actOnAlarm(
  alarm: AlarmView,
  act: "acknowledge" | "shelve" | "unshelve" | "reset" | "out-of-service" | "in-service",
  more: { minutes?: number } = {},
): Promise<void> {
  try {
    const answer = await fetch(`/api/alarms/${encodeURIComponent(alarm.key)}/${act}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ occurrence: alarm.occurrence, ...more }),
    });
    if (answer.ok) {
      alarms.value = ((await answer.json()) as { items: AlarmView[] }).items;
      lastProblem.value = "";
    } else lastProblem.value = ((await answer.json()) as Problem).detail;
  } catch {
    lastProblem.value = "The gateway did not answer: nothing was changed.";
  }
}

/** A point's reference conductivity over the last hours, in buckets; null when it can't be had. */
export async function recentSeries(point: string, hours: number): Promise<Buckets | null> {
  const toMs = Date.now() + gatewayAheadMs.value;
  try {
    const answer = await fetch(
      `/api/points/${encodeURIComponent(point)}/series?from=${toMs - hours * 3_600_000}&to=${toMs}&buckets=240`,
    );
    return answer.ok ? ((await answer.json()) as Buckets) : null;
  } catch {
    return null;
  }
}

/** What was refused lately, by name, with examples; empty when it can't be had. */
export async function recentRejections(): Promise<readonly RejectionView[]> {
  try {
    const answer = await fetch("/api/rejections");
    return answer.ok ? ((await answer.json()) as { items: RejectionView[] }).items : [];
  } catch {
    return [];
  }
}
