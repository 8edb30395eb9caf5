import type {
  AlarmChangeWord,
  AlarmStateWord,
  FlagReasonWord,
  NotJudgedWord,
} from "@drumlin/gateway/contract";
import { w } from "../words/words.ts";

// Each word of the gateway has its text in the catalogue, or the build fails. A gateway that is newer than an open page
// may say one that the page does not know: it is shown as it came.
function textOf(texts: Readonly<Record<string, string>>, word: string): string | undefined {
  return Object.hasOwn(texts, word) ? texts[word] : undefined;
}

/** Why a point or an alarm is not judged now, in plain words. */
export function notJudgedWords(because: NotJudgedWord | null): string {
  const texts = w.notJudged satisfies Readonly<Record<NotJudgedWord, string>>;
  return because === null ? "" : (textOf(texts, because) ?? `${w.moreWords.notJudged}: ${because}`);
}

/** An alarm's state in plain words. */
export function stateWords(state: AlarmStateWord): string {
  return textOf(w.alarmStates satisfies Readonly<Record<AlarmStateWord, string>>, state) ?? state;
}

/** Reasons of a flag, in plain words. */
export function reasonWords(reasons: readonly FlagReasonWord[]): string {
  const texts = w.flagReasons satisfies Readonly<Record<FlagReasonWord, string>>;
  return reasons.map((reason) => textOf(texts, reason) ?? reason).join(", ");
}

/** What happened to an alarm, in plain words. */
export function changeWords(why: AlarmChangeWord): string {
  return textOf(w.alarmChanges satisfies Readonly<Record<AlarmChangeWord, string>>, why) ?? why;
}

/** How much an alarm asks of a person. */
export function attentionWords(attention: keyof typeof w.attentions): string {
  return w.attentions[attention];
}

/** The word on a drum's water. */
export function verdictWords(verdict: keyof typeof w.verdicts): string {
  return w.verdicts[verdict];
}

/** Who signs in with a role may do what. */
export const roleWords = (role: keyof typeof w.frame.roles): string => w.frame.roles[role];

/** With a capital at its beginning. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
