import { count, w } from "../words/words.ts";
import { hourAndMinute } from "./hour-and-minute.ts";
import { locale, zone } from "./locale.ts";

/** Forms by locale and what they do: to make one takes a phone longer than to use it a hundred times. */
const numberForms = new Map<string, Intl.NumberFormat>();
const timeForms = new Map<string, Intl.DateTimeFormat>();

function numberForm(name: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale.value} ${name}`;
  let form = numberForms.get(key);
  if (!form) {
    form = new Intl.NumberFormat(locale.value, { useGrouping: "min2", ...options });
    numberForms.set(key, form);
  }
  return form;
}

function timeForm(tag: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${tag} ${JSON.stringify(options)}`;
  let form = timeForms.get(key);
  if (!form) {
    form = new Intl.DateTimeFormat(tag, options);
    timeForms.set(key, form);
  }
  return form;
}

/** A number with so many decimals in the form of the locale; thousands are set apart from five digits on. */
export const whole = (value: number, decimals = 0): string =>
  numberForm(`${decimals}`, {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
  }).format(value);

/** A number for a screen: three figures, at most three decimals (pure water reads 0.055 uS/cm), whole from 100 on. */
export function figure(value: number): string {
  const size = Math.abs(value);
  // Judged as rounded, so that 9.996 is "10.0" and not "10.00".
  if (size >= 99.95) return whole(value);
  if (size >= 9.995) return whole(value, 1);
  if (size >= 0.0995 || value === 0) return whole(value, 2);
  return whole(value, 3);
}

/** A number as it was set, with no decimal that says nothing: a limit of 5 is "5". */
export const asSet = (value: number): string =>
  numberForm("asSet", { maximumSignificantDigits: 6 }).format(value);

/** A share from 0 to 1 in percent, as a number. */
export const percent = (share: number, decimals = 0): string => whole(share * 100, decimals);

/** A duration in ms as "45 s", "12 min", "1 h 12 min", "3 days". */
export function duration(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000));
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return count(w.frame.days, Math.floor(hours / 24));
}

/** The time of day in the site's zone, with 12 or 24 hours as the locale has it. */
export const timeOfDay = (at: Date, timeZone = zone.value): string =>
  timeForm(locale.value, { ...hourAndMinute(locale.value), timeZone }).format(at);

const weekMs = 6 * 86_400_000;

/** Which day of the site's a time falls on, to be compared. */
export const dayOf = (at: Date): string =>
  timeForm("en-CA", { year: "numeric", month: "2-digit", day: "2-digit", timeZone: zone.value }).format(at);

/** "22:43" today, "Tue 22:43" within the week before, "24 Nov, 22:43" else; in the site's zone and the locale's form. */
export function clock(iso: string, nowMs: number): string {
  const at = new Date(iso);
  const time = timeOfDay(at);
  if (dayOf(at) === dayOf(new Date(nowMs))) return time;
  const agoMs = nowMs - at.getTime();
  const day: Intl.DateTimeFormatOptions =
    agoMs >= 0 && agoMs < weekMs ? { weekday: "short" } : { day: "numeric", month: "short" };
  const date = timeForm(locale.value, { ...day, timeZone: zone.value }).format(at);
  return "weekday" in day ? `${date} ${time}` : `${date}, ${time}`;
}

/** A number as a person types it, with a comma or a point; null when it is none or can be read in two ways. */
export function numberOf(text: string): number | null {
  const trimmed = text.trim().replace(/^−/, "-");
  if (!/^[-+]?(\d+([.,]\d*)?|[.,]\d+)$/.test(trimmed)) return null;
  // Where the sign also sets thousands apart, "1,413" may be 1413 or 1.413.
  const thousands = whole(12_345).charAt(2) === "." ? "." : ",";
  const [lead = "", rest] = trimmed.split(thousands);
  if (rest?.length === 3 && /^[-+]?[1-9]\d{0,2}$/.test(lead)) return null;
  return Number(trimmed.replace(",", "."));
}
