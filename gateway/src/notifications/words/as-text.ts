import { counted, fillIn, type Language, wordsIn } from "../../words/index.ts";
import type { MessageWords, ToldAlarm } from "./message-words.ts";

function alarmText(alarm: ToldAlarm, language: Language): string {
  const { messages, attentions } = wordsIn(language);
  const { attention, headline, facts, news, isOver, todo, stake, consequences, link, seenLink } = alarm;
  return [
    `${todo === "" || isOver ? "" : `${attentions[attention]}: `}${headline}`,
    facts,
    news,
    todo === "" ? "" : `\n${fillIn(messages.todo, { text: todo })}`,
    stake === "" ? "" : fillIn(messages.stake, { text: stake }),
    consequences.length === 0 ? "" : fillIn(messages.comesWith, { text: consequences.join("; ") }),
    link === null ? "" : `\n${messages.look}: ${link}`,
    seenLink === null ? "" : fillIn(messages.seenAsksAgain, { link: seenLink }),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

/** A message as plain text, for one screen. */
export function asText({ alarms, more, late, site, night, language }: MessageWords): string {
  const { messages } = wordsIn(language);
  const count = alarms.length + more;
  return [
    late ?? "",
    count > 1 ? counted(language, messages.alarms, count) : "",
    ...alarms.map((alarm) => alarmText(alarm, language)),
    more > 0 ? counted(language, messages.moreOnPage, more) : "",
    night === null ? "" : fillIn(messages.lastNight, { text: night }),
    `${site} · ${messages.caution}`,
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

/** The body alone, without the title, for ways that show little: the first alarm's facts and what to do. */
export function asShortText({ alarms: [first], more, alarms, language }: MessageWords): string {
  if (!first) return "";
  const others = alarms.length - 1 + more;
  return [
    first.facts,
    first.news,
    first.todo,
    others > 0 ? counted(language, wordsIn(language).messages.more, others) : "",
  ]
    .filter((part) => part !== "")
    .join("\n");
}
