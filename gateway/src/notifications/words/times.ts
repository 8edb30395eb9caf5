const zoned = (ms: number, zone: string) =>
  Temporal.Instant.fromEpochMilliseconds(Math.round(ms)).toZonedDateTimeISO(zone);
const days = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;
const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;

/** When, as the house says it: "07:18" today, "Tue 22:43" within six days, "24 Nov, 22:43" before. */
export function clockWords(ms: number, nowMs: number, zone: string): string {
  const then = zoned(ms, zone);
  const time = then.toPlainTime().toString({ smallestUnit: "minute" });
  const ago = then.toPlainDate().until(zoned(nowMs, zone).toPlainDate()).days;
  if (ago === 0) return time;
  return ago > 0 && ago < 7
    ? `${days[then.dayOfWeek - 1]} ${time}`
    : `${then.day} ${months[then.month - 1]}, ${time}`;
}

/** For how long: "40 s", "12 min", "3 h 5 min", "3 days". */
export function durationWords(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000));
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours >= 48) return `${Math.round(hours / 24)} days`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}

/** Minute of the day and date that the site's clocks show. */
export function siteMoment(ms: number, zone: string): { readonly minute: number; readonly date: string } {
  const now = zoned(ms, zone);
  return { minute: now.hour * 60 + now.minute, date: now.toPlainDate().toString() };
}
