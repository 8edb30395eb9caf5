import type { FillView, NightLine, NightView } from "@drumlin/gateway/contract";
import { say, w } from "../words/words.ts";
import { locale } from "./locale.ts";
import { timeOfDay, whole } from "./numbers.ts";
import { volume } from "./units.ts";

/** Clocks are set back by an hour, on Lord Howe by half of one: a time of day that comes again does so after that. */
const setBackByMs = [3_600_000, 1_800_000] as const;

/** "22:43" in the zone of the house; with its offset where the night has that time twice: "02:39 GMT+2". */
export function timeIn(zone: string, iso: string): string {
  const ms = Date.parse(iso);
  const time = timeOfDay(new Date(ms), zone);
  const isTwice = setBackByMs.some((by) =>
    [ms - by, ms + by].some((other) => timeOfDay(new Date(other), zone) === time),
  );
  if (!isTwice) return time;
  const parts = new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    timeZoneName: "shortOffset",
  }).formatToParts(ms);
  return `${time} ${parts.find(({ type }) => type === "timeZoneName")?.value ?? ""}`;
}

/** The same, with its weekday (or its date, more than six days back) where it lies before a night. */
export function timeFor({ timezone, from }: Pick<NightView, "timezone" | "from">, iso: string): string {
  const beforeMs = Date.parse(from) - Date.parse(iso);
  if (beforeMs <= 0) return timeIn(timezone, iso);
  const day: Intl.DateTimeFormatOptions =
    beforeMs < 6 * 86_400_000 ? { weekday: "short" } : { day: "numeric", month: "short" };
  const date = new Date(iso).toLocaleDateString(locale.value, { timeZone: timezone, ...day });
  return `${date} ${timeIn(timezone, iso)}`;
}

const dateOf = (date: string) => new Date(`${date}T12:00:00Z`);
const written = (date: Date, form: Intl.DateTimeFormatOptions) =>
  date.toLocaleDateString(locale.value, { timeZone: "UTC", ...form });

/** "24 November" of the date of an evening. */
export const dayAndMonth = (date: string) => written(dateOf(date), { day: "numeric", month: "long" });

/** "Tuesday night, 24 November". */
export function nightTitle(date: string): string {
  const evening = dateOf(date);
  const morning = new Date(evening.getTime() + 86_400_000);
  return say(w.nightWords.title, {
    weekday: written(evening, { weekday: "long" }),
    next: written(morning, { weekday: "long" }),
    date: dayAndMonth(date),
  });
}

/** "24" of the date of an evening. */
export const dayOfMonth = (date: string) => String(dateOf(date).getUTCDate());

/** Never more than it is: 99.97 % is no 100 %. */
export const percentOf = (share: number) => Math.floor(share * 100 + 1e-9);

/** A night of the strip for whoever hears the page. */
export function spokenNight({ date, litres, watched, attention, running }: NightLine): string {
  const made = litres === null ? w.nightWords.litresUnknown : volume(litres);
  const said = say(w.nightWords.spoken, { date: dayAndMonth(date), made, percent: percentOf(watched) });
  return `${said}${attention === null ? "" : w.nightWords.spokenTrouble}${running ? w.nightWords.spokenRunning : ""}`;
}

/** Who or what was not heard in a stretch. */
export function whoWords({ who, channels }: NightView["unwatched"][number]): string {
  if (who === "gateway") return w.nightWords.gatewayOff;
  const names = channels.map((channel) => channel.slice(who.length + 1));
  return say(w.nightWords.nodeNotHeard, {
    node: who,
    channels:
      names.length > 4 ? say(w.nightWords.channels, { count: whole(names.length) }) : names.join(", "),
  });
}

/** Whether a fill needs a look: it did not stop as it should, or bad water came in. */
export const isInTrouble = ({ end, tripConfirmed, reasons }: FillView) =>
  end === "not-stopping" ||
  end === "inflow-stopped" ||
  (end === "float-tripped" && tripConfirmed === false) ||
  reasons.length > 0;
