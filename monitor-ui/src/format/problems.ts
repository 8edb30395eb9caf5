import type { Problem } from "@drumlin/gateway/contract";
import { readSentence, sayBy } from "@drumlin/gateway/words/form";
import { language, say, w } from "../words/words.ts";
import { sentenceOf } from "./reasons.ts";

/** What went wrong, in the reader's language: the sentence itself, else what its code says and what to do. */
export function problemWords({ code, detail }: Pick<Problem, "code" | "detail">): string {
  if (readSentence(detail)) return sentenceOf(detail);
  if (code === "line-file-faulty") return faultsIn(detail);
  const text = language.value !== "en" && Object.hasOwn(w.codes, code) ? w.codes[code] : undefined;
  return text ? `${text.title}. ${text.todo}` : detail;
}

/** What the line file's reader says, in the reader's language. */
export const faultWords = (text: string): string => sayBy(w.lineFaults, text);

/** "line 4: …" of each fault of a line file, in the reader's language. */
const faultsIn = (detail: string): string =>
  detail
    .split(/(?:^| )line (?=\d+: )/)
    .filter((fault) => fault !== "")
    .map((fault) => {
      const [, row = "", message] = /^(\d+): (.*)$/s.exec(fault) ?? [];
      return message === undefined
        ? faultWords(fault)
        : `${say(w.draw.row, { row })}: ${faultWords(message)}`;
    })
    .join(" ");
