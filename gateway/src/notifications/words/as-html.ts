import { counted, fillIn, type Language, wordsIn } from "../../words/index.ts";
import type { MessageWords, ToldAlarm } from "./message-words.ts";

const marks: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};
const escaped = (text: string): string => text.replaceAll(/[&<>"']/g, (mark) => marks[mark] as string);

/** Colours of attention under white, as on the page; the word stands beside the colour. */
const fills = { wake: "#a3161b", tell: "#8a4b00", today: "#31566b" } as const;

const paragraph = (text: string, style = ""): string =>
  text === "" ? "" : `<p style="margin:0 0 10px;${style}">${escaped(text)}</p>`;
const button = (link: string | null, words: string): string =>
  link === null
    ? ""
    : `<a href="${escaped(link)}" style="display:inline-block;margin:4px 12px 10px 0;padding:12px 16px;border:1px solid #222;border-radius:3px;color:#222;text-decoration:none">${escaped(words)}</a>`;

function alarmHtml(alarm: ToldAlarm, chart: string, language: Language): string {
  const { messages, attentions } = wordsIn(language);
  const { attention, headline, facts, news, isOver, todo, stake, consequences, link, seenLink } = alarm;
  const isOpen = todo !== "";
  const tag =
    isOpen && !isOver
      ? `<span style="background:${fills[attention]};color:#fff;padding:3px 8px;border-radius:3px">${escaped(attentions[attention])}</span>`
      : "";
  return [
    `<div style="border-top:2px solid #222;padding:12px 0">`,
    tag,
    `<h2 style="font:bold 20px Georgia,serif;margin:8px 0 6px">${escaped(headline)}</h2>`,
    paragraph(facts),
    chart,
    paragraph(news, "font-weight:bold"),
    paragraph(isOpen ? fillIn(messages.todo, { text: todo }) : "", "font-weight:bold"),
    paragraph(stake === "" ? "" : fillIn(messages.stake, { text: stake })),
    paragraph(consequences.length === 0 ? "" : fillIn(messages.comesWith, { text: consequences.join("; ") })),
    button(link, messages.look),
    button(seenLink, messages.seen),
    "</div>",
  ].join("");
}

/** A message as HTML, every word in it escaped. `chart`: the name of the first alarm's picture, which comes with the mail. */
export function asHtml(
  { alarms, more, late, site, night, language }: MessageWords,
  chart: string | null,
): string {
  const { messages } = wordsIn(language);
  const picture =
    chart === null
      ? ""
      : `<img src="cid:${escaped(chart)}" width="360" height="96" alt="${escaped(messages.chart)}">`;
  return [
    `<!doctype html><html lang="${language}"><body style="margin:0;padding:12px;background:#f4f3ef;color:#222;font:16px/1.4 sans-serif">`,
    late === null ? "" : paragraph(late, "font-weight:bold"),
    ...alarms.map((alarm, index) => alarmHtml(alarm, index === 0 ? picture : "", language)),
    more > 0 ? paragraph(counted(language, messages.moreOnPage, more)) : "",
    night === null ? "" : paragraph(fillIn(messages.lastNight, { text: night })),
    paragraph(`${site} · ${messages.caution}`, "color:#555;font-size:13px"),
    "</body></html>",
  ].join("");
}
