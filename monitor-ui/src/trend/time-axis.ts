import { hourAndMinute } from "../format/hour-and-minute.ts";
import { locale } from "../format/locale.ts";

const minute = 60_000;
const hour = 60 * minute;
const day = 24 * hour;
const steps = [
  minute,
  2 * minute,
  5 * minute,
  10 * minute,
  30 * minute,
  hour,
  2 * hour,
  3 * hour,
  6 * hour,
  12 * hour,
  day,
  2 * day,
  7 * day,
  14 * day,
  30 * day,
  61 * day,
  122 * day,
];

/** How far a zone is ahead of UTC at a time, ms; without a zone the device's own. */
function aheadMs(ms: number, zone: string | undefined): number {
  const parts = new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  }).formatToParts(ms);
  const part = (type: string) => Number(parts.find((one) => one.type === type)?.value);
  const local = Date.UTC(
    part("year"),
    part("month") - 1,
    part("day"),
    part("hour"),
    part("minute"),
    part("second"),
  );
  return local - Math.floor(ms / 1000) * 1000;
}

/** Round times of the zone's own clock in a span, `most` at most, each with what stands under it. */
export function timeTicks(
  fromMs: number,
  toMs: number,
  most: number,
  {
    zone,
    locale: form = locale.value,
  }: { readonly zone?: string | undefined; readonly locale?: string | undefined } = {},
): { readonly ms: number; readonly words: string }[] {
  const step = steps.find((one) => (toMs - fromMs) / one <= most) ?? (steps.at(-1) as number);
  const time = new Intl.DateTimeFormat(form, { timeZone: zone, ...hourAndMinute(form) });
  const date = new Intl.DateTimeFormat(form, { timeZone: zone, day: "numeric", month: "short" });
  const weekday = new Intl.DateTimeFormat(form, { timeZone: zone, weekday: "short", day: "numeric" });
  const found: { ms: number; words: string }[] = [];
  let local = Math.ceil((fromMs + aheadMs(fromMs, zone)) / step) * step;
  for (let times = 0; times <= most + 2; times += 1, local += step) {
    // The offset at the tick itself: clocks may change between two.
    const guess = local - aheadMs(local - aheadMs(fromMs, zone), zone);
    const ms = local - aheadMs(guess, zone);
    if (ms > toMs) break;
    if (ms < fromMs) continue;
    const isMidnight = local % day === 0;
    const words = step >= 7 * day ? date.format(ms) : isMidnight ? weekday.format(ms) : time.format(ms);
    found.push({ ms, words });
  }
  return found;
}

/** "Tue 24 Nov, 07:18" by the zone's own clock; with its seconds where `fine`. */
export function dayAndTime(ms: number, zone: string | undefined, fine = false): string {
  return new Intl.DateTimeFormat(locale.value, {
    timeZone: zone,
    weekday: "short",
    day: "numeric",
    month: "short",
    ...hourAndMinute(locale.value),
    ...(fine ? { second: "2-digit" } : {}),
  }).format(ms);
}

/** A time as an input of type datetime-local takes it, by the zone's own clock. */
export const toInput = (ms: number, zone: string | undefined): string =>
  new Date(ms + aheadMs(ms, zone)).toISOString().slice(0, 16);

/** What such an input says, epoch ms; null where it says nothing. */
export function ofInput(text: string, zone: string | undefined): number | null {
  const local = Date.parse(`${text}Z`);
  if (Number.isNaN(local)) return null;
  return local - aheadMs(local - aheadMs(local, zone), zone);
}
