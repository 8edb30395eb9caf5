import type { Line } from "../../line/index.ts";
import type { DueMessage, Step } from "../due.ts";
import { headlineOf } from "./headlines.ts";
import { onOneLine } from "./message-words.ts";

const stepWords: Readonly<Record<Step, string>> = {
  call: "",
  again: "still: ",
  seen: "seen: ",
  silenced: "silenced: ",
  ended: "ended: ",
  today: "",
};
const maxLength = 200;

/** A message in one line, for the list of what was told. */
export function titleOfDue({ entries, list }: DueMessage, line: Line | null): string {
  const [first] = entries;
  if (!first) return "";
  const head = `${stepWords[first.step]}${headlineOf(first.call.alarm, line)}`;
  const more = entries.length === 1 ? "" : ` and ${entries.length - 1} more`;
  return onOneLine(`${list === null ? "" : "Morning list: "}${head}${more}`).slice(0, maxLength);
}
