import type { AlarmView } from "@drumlin/gateway/contract";
import { headlineOf as headlineIn } from "@drumlin/gateway/words/form";
import { titleOf } from "../data/state.ts";
import { w } from "../words/words.ts";

/** What an alarm says, its subject first: "After resin: letting salts through". */
export const headlineOf = (alarm: Pick<AlarmView, "condition" | "subject" | "text">): string =>
  headlineIn(w, alarm, titleOf);

/** What to do first about an alarm; what the page has no words for stays as the gateway says it. */
export function responseOf({ condition, response }: Pick<AlarmView, "condition" | "response">): string {
  const texts: Readonly<Record<string, { readonly response: string }>> = w.conditions;
  return (Object.hasOwn(texts, condition) ? texts[condition]?.response : undefined) ?? response;
}
