export { type CodeText, codes as germanCodes } from "./de/codes.ts";
export type { ConditionId, ConditionText } from "./en/conditions.ts";
export {
  bracesOf,
  type Counting,
  fillIn,
  type Headlined,
  readSentence,
  type Said,
  type SentenceCode,
  say,
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
  type Words,
  wordsIn,
} from "./language.ts";
