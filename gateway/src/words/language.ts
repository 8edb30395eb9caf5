import * as de from "./de/index.ts";
import * as en from "./en/index.ts";
import type { ConditionText } from "./form/condition-text.ts";
import { fillIn, type Values } from "./form/fill-in.ts";
import { type Headlined, headlineOf } from "./form/headline.ts";
import { readSentence } from "./form/sentences.ts";
import type { Counting, Translated } from "./form/translated.ts";

/** Languages that people can be spoken to in, as BCP 47 tags. */
export const languages = ["en", "de"] as const;
/** A language, by its BCP 47 tag. */
export type Language = (typeof languages)[number];

/** What the gateway says to people, in one language. */
export type Words = Translated<typeof en>;

const catalogues: Readonly<Record<Language, Words>> = { en, de };

/** The words of a language. */
export const wordsIn = (language: Language): Words => catalogues[language];

/** What a condition says; one that has no words there says its id. */
export function conditionText(id: string, language: Language = "en"): ConditionText {
  const texts: Readonly<Record<string, ConditionText>> = catalogues[language].conditions;
  const text = Object.hasOwn(texts, id) ? texts[id] : undefined;
  return (
    text ?? { title: id, headline: `{subject}: ${id}`, cause: "", consequence: "", response: "", after: "" }
  );
}

/**
 * What there is to do about an alarm: what is left to look at once it is over, else what to do first. `told` is what stands
 * where the condition has no words.
 */
export function toDoIn(
  language: Language,
  {
    condition,
    isOver,
    told,
  }: { readonly condition: string; readonly isOver: boolean; readonly told: string },
): string {
  const { response, after } = conditionText(condition, language);
  return (isOver ? after : response) || told;
}

/** An alarm in one line, its subject first: "After resin: letting salts through". `titleOf` names what it is about. */
export function headlineIn(
  language: Language,
  alarm: Headlined,
  titleOf: (subject: string) => string,
): string {
  return headlineOf(catalogues[language], alarm, titleOf);
}

/** Whether a condition has words of its own. */
export const hasHeadline = (language: Language, condition: string): boolean =>
  Object.hasOwn(catalogues[language].conditions, condition);

/** A counting sentence for a number: `counted("de", words.messages.alarms, 2)` is "2 Alarme". */
export function counted(language: Language, sentence: Counting, count: number, values: Values = {}): string {
  const form = new Intl.PluralRules(language).select(count) === "one" ? sentence.one : sentence.other;
  return fillIn(form, { count, ...values });
}

/** A sentence of the gateway in a language; one that is not in its list stays as it is. */
export function sentenceIn(language: Language, text: string): string {
  const said = readSentence(text);
  if (!said || language === "en") return text;
  const shown = Object.entries(said.values).map(([name, value]) => [
    name,
    typeof value === "number" ? value.toLocaleString(language, { maximumSignificantDigits: 6 }) : value,
  ]);
  return fillIn(catalogues[language].sentences[said.code], Object.fromEntries(shown));
}
