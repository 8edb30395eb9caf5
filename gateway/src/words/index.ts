export { type CodeText, codes as germanCodes } from "./de/codes.ts";
export { lineFaults as germanLineFaults } from "./de/line-faults.ts";
export { lineKeyPhrases, lineKeys, lineNumberWords } from "./de/line-keys.ts";
export type { ConditionId } from "./en/conditions.ts";
export type { ConditionText } from "./form/condition-text.ts";
export {
  bracesOf,
  type Counting,
  fillIn,
  type Headlined,
  readSentence,
  type Said,
  type SentenceCode,
  say,
  sayBy,
  sentences,
  type Translated,
  type Values,
} from "./form/index.ts";
export {
  conditionText,
  counted,
  hasHeadline,
  headlineIn,
  type Language,
  languages,
  sentenceIn,
  toDoIn,
  type Words,
  wordsIn,
} from "./language.ts";
