import type { FloatSaid, LevelSaid, MeterSaid } from "../drum-witnesses.ts";

/** When a level came to rest and when a float got wet are each known to so many periods of their nodes. */
const apartPeriods = 2;

/**
 * A level that rose while its meter ran came to rest when the stop float got wet, to within its noise, and the meter runs on: it is
 * stuck, or what it counts runs elsewhere. One fault explains that; for water to come all the same, level and valve
 * must have failed at the moment of the trip. At the brim a level rests, whatever comes: that is for the caller to leave out.
 */
export function restsSinceTrip(
  meters: readonly MeterSaid[],
  level: LevelSaid | null,
  stop: FloatSaid | null,
): boolean {
  const meter = meters.find(({ flowing }) => flowing !== null);
  if (!meter?.flowing || level?.flowing !== false || !stop?.heard || stop.wet !== true) return false;
  if (level.isFrozen || level.sinceMs <= meter.sinceMs) return false;
  // What the meter counts between the two would show: else it ran on, and now runs over an edge that lies low.
  const hiddenMs = (level.noticeableL / (meter.steadyLPerMin ?? meter.flowLPerMin ?? 1)) * 60_000;
  const blurMs = hiddenMs + apartPeriods * (level.periodMs + stop.periodMs);
  return Math.abs(level.sinceMs - stop.sinceMs) <= blurMs;
}
