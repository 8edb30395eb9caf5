import type { AlarmChangeView, Buckets, FillView, LineView } from "@drumlin/gateway/contract";
import { gatewayAheadMs, lastProblem, line } from "./state.ts";

async function asked<Answer>(path: string): Promise<Answer | null> {
  try {
    const answer = await fetch(path);
    return answer.ok ? ((await answer.json()) as Answer) : null;
  } catch {
    return null;
  }
}

/** Changes of alarms, newest first, after a page before; null when they can't be had. */
export function alarmJournal(after: string | null) {
  return asked<{ items: AlarmChangeView[]; next: string | null }>(
    `/api/alarms/journal?limit=100${after === null ? "" : `&after=${after}`}`,
  );
}

/** Fills that began in a time; none when they can't be had. */
export async function fillsBetween(fromMs: number, toMs: number): Promise<readonly FillView[]> {
  const page = await asked<{ items: FillView[] }>(`/api/fills?from=${fromMs}&to=${toMs}&limit=500`);
  return page?.items ?? [];
}

/** Alarms that were raised in a time, oldest last; none when they can't be had. */
export async function alarmsBetween(fromMs: number, toMs: number): Promise<readonly AlarmChangeView[]> {
  const page = await asked<{ items: AlarmChangeView[] }>("/api/alarms/journal?limit=1000");
  return (page?.items ?? []).filter(({ at, why }) => {
    const atMs = Date.parse(at);
    return (
      atMs >= fromMs && atMs < toMs && (why === "raised" || why === "raised-gross" || why === "re-raised")
    );
  });
}

/** One quantity of a point or drum in buckets; null when it can't be had. */
export function seriesBetween(
  kind: "points" | "drums",
  id: string,
  quantity: string,
  fromMs: number,
  toMs: number,
): Promise<Buckets | null> {
  return asked<Buckets>(
    `/api/${kind}/${encodeURIComponent(id)}/series?quantity=${quantity}&from=${fromMs}&to=${toMs}&buckets=600`,
  );
}

/** Something that a person does with a drum; what went wrong stands in `lastProblem`. */
export async function actOnDrum(drum: string, act: "release" | "fill", body: object): Promise<void> {
  try {
    const answer = await fetch(`/api/drums/${encodeURIComponent(drum)}/${act}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
    });
    const told = await answer.json();
    if (answer.ok) {
      line.value = told as LineView;
      lastProblem.value = "";
    } else lastProblem.value = (told as { detail: string }).detail;
  } catch {
    lastProblem.value = "The gateway did not answer: nothing was changed.";
  }
}

/** Sends something that changes the gateway; true when it was taken, else `lastProblem` says why. */
export async function change(path: string, body: object): Promise<boolean> {
  try {
    const answer = await fetch(path, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
    });
    lastProblem.value = answer.ok ? "" : ((await answer.json()) as { detail: string }).detail;
    return answer.ok;
  } catch {
    lastProblem.value = "The gateway did not answer: nothing was changed.";
    return false;
  }
}

/** Sets the limit of a point's water in the line file. */
export async function setLimit(point: string, limit: number): Promise<boolean> {
  const file = await asked<{ version: string }>("/api/line/file");
  if (!file) return false;
  return change("/api/line/limits", {
    condition: "resin-breakthrough",
    subject: point,
    limit,
    version: file.version,
  });
}

/** Now by the gateway's clock, epoch ms. */
export const gatewayNow = () => Date.now() + gatewayAheadMs.value;
