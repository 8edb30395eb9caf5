import { w } from "../words/words.ts";

/** What a code of the gateway says in the reader's language; what the page does not know stays as it came. */
export const codeWords = (code: string, came: string, part: "title" | "todo"): string =>
  (Object.hasOwn(w.codes, code) ? w.codes[code]?.[part] : undefined) ?? came;
