import type { Line } from "../../line/index.ts";
import { counted, type Language, wordsIn } from "../../words/index.ts";
import type { DueMessage, Step } from "../due.ts";
import { headlineOf } from "./headlines.ts";
import { onOneLine } from "./message-words.ts";

const stepKeys: Readonly<Record<Step, "still" | "answered" | "silent" | "over" | null>> = {
  call: null,
  again: "still",
  seen: "answered",
  silenced: "silent",
  ended: "over",
  today: null,
};
const maxLength = 200;

/** A message in one line, for the list of what was told. */
export function titleOfDue({ entries, list }: DueMessage, line: Line | null, language: Language): string {
  const [first] = entries;
  if (!first) return "";
  const { messages } = wordsIn(language);
  const said = (step: string, text: string) => `${step}: ${text}`;
  const key = stepKeys[first.step];
  const headline = headlineOf(first.call.alarm, line, language);
  const head = key === null ? headline : said(messages[key], headline);
  const more = entries.length === 1 ? "" : ` ${counted(language, messages.andMore, entries.length - 1)}`;
  const whole = `${head}${more}`;
  return onOneLine(list === null ? whole : said(messages.morningList, whole)).slice(0, maxLength);
}
