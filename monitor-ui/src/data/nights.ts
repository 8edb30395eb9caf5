import type { Buckets, NightLine, NightView } from "@drumlin/gateway/contract";
import { ask, type Sent, send } from "./send.ts";

/** So many nights stand in the strip. */
const nightsInStrip = 30;

/** Nights, newest first, after a page before; null when they can't be had. */
export function nightList(after: string | null) {
  return ask<{ items: NightLine[]; next: string | null }>(
    `/api/nights?limit=${nightsInStrip}${after === null ? "" : `&after=${after}`}`,
  );
}

/** One night by the date of its evening; null when it can't be had. */
export const oneNight = (date: string) => ask<NightView>(`/api/nights/${encodeURIComponent(date)}`);

/** A series over one fill, in few buckets; null when it can't be had. */
export function seriesOfFill(
  kind: "points" | "drums",
  id: string,
  quantity: string,
  fromMs: number,
  toMs: number,
): Promise<Buckets | null> {
  const range = `from=${Math.round(fromMs)}&to=${Math.round(toMs)}`;
  return ask<Buckets>(
    `/api/${kind}/${encodeURIComponent(id)}/series?quantity=${quantity}&${range}&buckets=200`,
  );
}

/** What a note on a night is about. */
export const noteSubject = (date: string) => `night ${date}`;

/** Writes a note on a night. */
export const noteOnNight = (date: string, text: string): Promise<Sent> =>
  send("/api/notes", { text, subject: noteSubject(date) });
