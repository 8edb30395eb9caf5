import { attentionWords, type MessageWords, type ToldAlarm } from "./message-words.ts";

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

function alarmHtml(alarm: ToldAlarm, chart: string): string {
  const { attention, headline, facts, news, todo, stake, consequences, link, seenLink } = alarm;
  const isOpen = todo !== "";
  const tag = isOpen
    ? `<span style="background:${fills[attention]};color:#fff;padding:3px 8px;border-radius:3px">${escaped(attentionWords[attention])}</span>`
    : "";
  return [
    `<div style="border-top:2px solid #222;padding:12px 0">`,
    tag,
    `<h2 style="font:bold 20px Georgia,serif;margin:8px 0 6px">${escaped(headline)}</h2>`,
    paragraph(facts),
    chart,
    paragraph(news, "font-weight:bold"),
    paragraph(isOpen ? `What to do: ${todo}` : "", "font-weight:bold"),
    paragraph(stake === "" ? "" : `If nothing is done: ${stake}`),
    paragraph(consequences.length === 0 ? "" : `Comes with it: ${consequences.join("; ")}`),
    button(link, "Look"),
    button(seenLink, "I've seen it…"),
    "</div>",
  ].join("");
}

/** A message as HTML, every word in it escaped. `chart`: the name of the first alarm's picture, which comes with the mail. */
export function asHtml({ alarms, more, late, site, night }: MessageWords, chart: string | null): string {
  const picture =
    chart === null
      ? ""
      : `<img src="cid:${escaped(chart)}" width="360" height="96" alt="The last six hours, with the limit as a line">`;
  return [
    '<!doctype html><html lang="en"><body style="margin:0;padding:12px;background:#f4f3ef;color:#222;font:16px/1.4 sans-serif">',
    late === null ? "" : paragraph(late, "font-weight:bold"),
    ...alarms.map((alarm, index) => alarmHtml(alarm, index === 0 ? picture : "")),
    more > 0 ? paragraph(`And ${more} more: see the page.`) : "",
    night === null ? "" : paragraph(`Last night: ${night}`),
    paragraph(`${site} · A second pair of eyes, never the safety device.`, "color:#555;font-size:13px"),
    "</body></html>",
  ].join("");
}
