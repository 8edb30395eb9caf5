import type { AlarmView } from "@drumlin/gateway/contract";
import { headlineOf as headlineIn } from "@drumlin/gateway/words/form";
import { titleOf } from "../data/state.ts";
import { language, w } from "../words/words.ts";

/** What an alarm says, its subject first: "After resin: letting salts through". */
export const headlineOf = (alarm: Pick<AlarmView, "condition" | "subject" | "text">): string =>
  headlineIn(w, alarm, titleOf);

/**
 * What to do first about an alarm; once it is over, what is left to look at. English is what the gateway says, and so is what
 * the page has no words for.
 */
export function responseOf({
  condition,
  response,
  isOver,
}: Pick<AlarmView, "condition" | "response"> & { readonly isOver: boolean }): string {
  if (language.value === "en") return response;
  const texts: Readonly<Record<string, { readonly response?: string; readonly after?: string }>> =
    w.conditions;
  const text = Object.hasOwn(texts, condition) ? texts[condition] : undefined;
  return (isOver ? text?.after : text?.response) ?? response;
}

/** The same of an alarm as it is now. */
export const toDoOf = (alarm: Pick<AlarmView, "condition" | "response" | "clearedAt">): string =>
  responseOf({ ...alarm, isOver: alarm.clearedAt !== null });
