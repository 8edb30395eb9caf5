import { counted, type Language, wordsIn } from "../../words/index.ts";

const zoned = (ms: number, zone: string) =>
  Temporal.Instant.fromEpochMilliseconds(Math.round(ms)).toZonedDateTimeISO(zone);

/** Day before month also where English is spoken. */
const places: Readonly<Record<Language, string>> = { en: "en-GB", de: "de-DE" };
interface DateFormats {
  readonly weekday: Intl.DateTimeFormat;
  readonly day: Intl.DateTimeFormat;
}
const formats = new Map<Language, DateFormats>();

/** Made when the first message wants them. Dates are looked at in UTC: the zone was applied before. */
function formatsOf(language: Language): DateFormats {
  let known = formats.get(language);
  if (!known) {
    known = {
      weekday: new Intl.DateTimeFormat(places[language], { weekday: "short", timeZone: "UTC" }),
      day: new Intl.DateTimeFormat(places[language], { day: "numeric", month: "short", timeZone: "UTC" }),
    };
    formats.set(language, known);
  }
  return known;
}

/** When, as the house says it: "07:18" today, "Tue 22:43" within six days, "24 Nov, 22:43" before. */
export function clockWords(ms: number, nowMs: number, zone: string, language: Language = "en"): string {
  const then = zoned(ms, zone);
  const time = then.toPlainTime().toString({ smallestUnit: "minute" });
  const ago = then.toPlainDate().until(zoned(nowMs, zone).toPlainDate()).days;
  if (ago === 0) return time;
  const date = new Date(`${then.toPlainDate()}T00:00:00Z`);
  const format = formatsOf(language);
  return ago > 0 && ago < 7
    ? `${format.weekday.format(date)} ${time}`
    : `${format.day.format(date)}, ${time}`;
}

/** For how long: "40 s", "12 min", "3 h 5 min", "3 days". */
export function durationWords(ms: number, language: Language = "en"): string {
  const seconds = Math.max(0, Math.round(ms / 1000));
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours >= 48) return counted(language, wordsIn(language).messages.days, Math.round(hours / 24));
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}

/** Minute of the day and date that the site's clocks show. */
export function siteMoment(ms: number, zone: string): { readonly minute: number; readonly date: string } {
  const now = zoned(ms, zone);
  return { minute: now.hour * 60 + now.minute, date: now.toPlainDate().toString() };
}
