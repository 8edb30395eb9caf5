import type { EpochMs } from "./flavours.ts";

/** A moment as ISO 8601 with the zone's offset then, to the millisecond: "2026-11-25T06:02:11.000+01:00". */
export function zonedIso(atMs: EpochMs, timeZone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(atMs)
    .toZonedDateTimeISO(timeZone)
    .toString({ timeZoneName: "never", fractionalSecondDigits: 3 });
}

/** The calendar date at a moment in a zone, "2026-11-25". */
export function dateIn(atMs: EpochMs, timeZone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(timeZone).toPlainDate().toString();
}

/** A night: `[fromMs, toMs)`, dated by its evening. */
export interface NightWindow {
  readonly date: string;
  readonly fromMs: EpochMs;
  readonly toMs: EpochMs;
}

function momentOf(date: Temporal.PlainDate, time: string, timeZone: string): EpochMs {
  return date.toZonedDateTime({ timeZone, plainTime: Temporal.PlainTime.from(time) }).epochMilliseconds;
}

/**
 * The night that begins on the evening of `date` (ISO) in a zone, from wall-clock `from` to `to` ("21:00", "07:00"):
 * 10 hours as a rule, 9 or 11 where the clocks change in it. `to` at or before `from` is the next morning. A wall-clock
 * time that the zone skips is the moment the clocks jump to; one that comes twice is the first (Temporal "compatible").
 * Throws RangeError for a date, time or zone that does not exist.
 */
export function nightWindow(date: string, timeZone: string, from = "21:00", to = "07:00"): NightWindow {
  const evening = Temporal.PlainDate.from(date);
  const sameDay = Temporal.PlainTime.compare(Temporal.PlainTime.from(to), Temporal.PlainTime.from(from)) > 0;
  const morning = sameDay ? evening : evening.add({ days: 1 });
  return {
    date: evening.toString(),
    fromMs: momentOf(evening, from, timeZone),
    toMs: momentOf(morning, to, timeZone),
  };
}

/** The night in which a moment lies, or null by day. */
export function nightAt(atMs: EpochMs, timeZone: string, from = "21:00", to = "07:00"): NightWindow | null {
  const today = Temporal.PlainDate.from(dateIn(atMs, timeZone));
  for (const evening of [today, today.subtract({ days: 1 })]) {
    const night = nightWindow(evening.toString(), timeZone, from, to);
    if (atMs >= night.fromMs && atMs < night.toMs) return night;
  }
  return null;
}
