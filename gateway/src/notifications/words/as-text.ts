import { attentionWords, type MessageWords, type ToldAlarm } from "./message-words.ts";

const caution = "A second pair of eyes, never the safety device.";

function alarmText(alarm: ToldAlarm): string {
  const { attention, headline, facts, news, todo, stake, consequences, link, seenLink } = alarm;
  return [
    `${todo === "" ? "" : `${attentionWords[attention]}: `}${headline}`,
    facts,
    news,
    todo === "" ? "" : `\nWhat to do: ${todo}`,
    stake === "" ? "" : `If nothing is done: ${stake}`,
    consequences.length === 0 ? "" : `Comes with it: ${consequences.join("; ")}`,
    link === null ? "" : `\nLook: ${link}`,
    seenLink === null ? "" : `I've seen it (asks once more): ${seenLink}`,
  ]
    .filter((part) => part !== "")
    .join("\n");
}

/** A message as plain text, for one screen. */
export function asText({ alarms, more, late, site, night }: MessageWords): string {
  const count = alarms.length + more;
  return [
    late ?? "",
    count > 1 ? `${count} alarms` : "",
    ...alarms.map(alarmText),
    more > 0 ? `And ${more} more: see the page.` : "",
    night === null ? "" : `Last night: ${night}`,
    `${site} · ${caution}`,
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

/** The body alone, without the title, for ways that show little: the first alarm's facts and what to do. */
export function asShortText({ alarms: [first], more, alarms }: MessageWords): string {
  if (!first) return "";
  const others = alarms.length - 1 + more;
  return [first.facts, first.news, first.todo, others > 0 ? `And ${others} more.` : ""]
    .filter((part) => part !== "")
    .join("\n");
}
