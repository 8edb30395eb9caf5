import type {
  AlarmFiguresView,
  AlarmView,
  MessageView,
  NotificationsView,
  SilenceView,
} from "@drumlin/gateway/contract";
import { w } from "../words/words.ts";
import { ask, remove, type Sent, send } from "./send.ts";
import { alarms, line } from "./state.ts";

/** Who is told, and how; null when it can't be had. */
export const notifications = () => ask<NotificationsView>("/api/notifications");

/** What was told, newest first; null when it can't be had. */
export async function messages(): Promise<readonly MessageView[] | null> {
  return (await ask<{ items: MessageView[] }>("/api/notifications/messages?limit=100"))?.items ?? null;
}

/** How often people were called in the last week; null when it can't be had. */
export const weekFigures = () => ask<AlarmFiguresView>("/api/alarms/kpi?days=7");

/** Alarms that can't ring now, with reason and end; null when it can't be had. */
export async function silences(): Promise<readonly SilenceView[] | null> {
  return (await ask<{ items: SilenceView[] }>("/api/alarms/silences"))?.items ?? null;
}

/** Sends a test message; a delivery that failed is a problem in the words of the other end. */
export async function testDestination(id: string): Promise<Sent> {
  const sent = await send<{ delivered: boolean; why: string | null }>(
    `/api/notifications/${encodeURIComponent(id)}/test`,
    {},
  );
  if (!sent.taken || sent.told.delivered) return sent;
  return { taken: false, problem: sent.told.why ?? w.told.wasNotDelivered };
}

/** A device takes no more messages. */
export const removeDevice = (id: string): Promise<Sent<NotificationsView>> =>
  remove(`/api/notifications/devices/${encodeURIComponent(id)}`);

/** When people are told again, min, and the time of the morning list. */
export interface PolicyForm {
  readonly wakeAgain: number;
  readonly secondAfter: number;
  readonly tellAgain: number;
  readonly today: string;
}

export const setPolicy = (policy: PolicyForm): Promise<Sent<NotificationsView>> =>
  send("/api/notifications/policy", policy);

/** What a link in a message is for. */
export const lookAtLink = (token: string) =>
  send<{ key: string; occurrence: string; stands: boolean }>("/api/seen/look", { token });

/** Marks as seen what the link was sent for. */
export async function useLink(token: string): Promise<Sent> {
  const sent = await send<{ items: AlarmView[] }>("/api/seen", { token });
  if (sent.taken) alarms.value = sent.told.items;
  return sent;
}

/** Says that somebody works on a stage or drum, or is done. */
export async function sayWork(
  subject: { readonly kind: "stage" | "drum" | "floor"; readonly id: string },
  minutes: number | null,
): Promise<Sent> {
  const sent = await (minutes === null
    ? send<typeof line.value>("/api/work-done", subject)
    : send<typeof line.value>("/api/work", { ...subject, minutes }));
  if (sent.taken && sent.told) line.value = sent.told;
  return sent;
}
