import type { AlarmChangeView, Buckets, FillView, LineView } from "@drumlin/gateway/contract";
import { w } from "../words/words.ts";
import { ask, type Sent, send } from "./send.ts";
import { line } from "./state.ts";

/** Changes of alarms, newest first, after a page before; null when they can't be had. */
export function alarmJournal(after: string | null) {
  return ask<{ items: AlarmChangeView[]; next: string | null }>(
    `/api/alarms/journal?limit=100${after === null ? "" : `&after=${after}`}`,
  );
}

/** Fills that began in a time; null when they can't be had. */
export async function fillsBetween(fromMs: number, toMs: number): Promise<readonly FillView[] | null> {
  const page = await ask<{ items: FillView[] }>(`/api/fills?from=${fromMs}&to=${toMs}&limit=500`);
  return page?.items ?? null;
}

/** One quantity of a point or drum in buckets; null when it can't be had. */
export function seriesBetween(
  kind: "points" | "drums",
  id: string,
  quantity: string,
  fromMs: number,
  toMs: number,
  buckets = 600,
): Promise<Buckets | null> {
  return ask<Buckets>(
    `/api/${kind}/${encodeURIComponent(id)}/series?quantity=${quantity}&from=${fromMs}&to=${toMs}&buckets=${buckets}`,
  );
}

/** Something that a person does with a drum. */
export async function actOnDrum(
  drum: string,
  act: "release" | "release/undo" | "fill" | "batch" | "supply-closed",
  body: object,
): Promise<Sent> {
  const sent = await send<LineView>(`/api/drums/${encodeURIComponent(drum)}/${act}`, body);
  if (sent.taken) line.value = sent.told;
  return sent;
}

/** Sets the limit of a point's water in the line file. */
export async function setLimit(point: string, limit: number): Promise<Sent> {
  const file = await ask<{ version: string }>("/api/line/file");
  if (!file) return { taken: false, problem: w.frame.fileNotRead };
  return send("/api/line/limits", {
    condition: "resin-breakthrough",
    subject: point,
    limit,
    version: file.version,
  });
}
