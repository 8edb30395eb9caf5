import type { Problem } from "@drumlin/gateway/contract";
import { readSentence } from "@drumlin/gateway/words/form";
import { language, w } from "../words/words.ts";
import { sentenceOf } from "./reasons.ts";

/** What went wrong, in the reader's language: the sentence itself, else what its code says and what to do. */
export function problemWords({ code, detail }: Pick<Problem, "code" | "detail">): string {
  if (readSentence(detail)) return sentenceOf(detail);
  const text = language.value !== "en" && Object.hasOwn(w.codes, code) ? w.codes[code] : undefined;
  return text ? `${text.title}. ${text.todo}` : detail;
}
