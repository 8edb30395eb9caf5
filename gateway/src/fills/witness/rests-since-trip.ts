import { median } from "../../statistics/index.ts";
import type { FloatSaid, LevelSaid, MeterSaid } from "../drum-witnesses.ts";
import type { LevelReading, LevelTrace } from "./level-trace.ts";

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

/** A reading is the middle of so many. */
const count = 3;
/** Water that was seen to run for less before its trip was hardly judged. */
const judgedMs = 60_000;

/**
 * Of a top-up its level tells only when it is over: then what stands at the probe, which came in last, is judged for as long as it
 * had run, ms.
 */
function judgedUntilMs({ saidMs = Number.NEGATIVE_INFINITY, sinceMs }: Rise, trippedMs: number): number {
  return saidMs <= trippedMs - judgedMs ? trippedMs : saidMs + Math.max(0, trippedMs - sinceMs);
}

type Rise = Pick<LevelTrace, "says" | "saidMs" | "sinceMs" | "minutes" | "recent">;

/**
 * A level tells of a rise by medians over minutes, and goes on with it when its stop float has tripped: one that is read once a minute for a
 * quarter of an hour. Its readings themselves have not risen since then, by more than noise: what it says is of the time before.
 */
export function saysOfBeforeTrip(
  trace: Rise,
  { noticeableL, lastMs }: LevelSaid,
  stop: FloatSaid | null,
): boolean {
  const { says, minutes, recent } = trace;
  if (says !== "flowing" || !stop?.heard || stop.wet !== true) return false;
  if ((lastMs ?? 0) < judgedUntilMs(trace, stop.sinceMs)) return false;
  const isSince = ({ tMs }: LevelReading) => tMs >= stop.sinceMs;
  const middle = (readings: readonly LevelReading[]) => median(readings.map(({ litres }) => litres));
  const since = recent.filter(isSince);
  const first = minutes.find(isSince);
  const heldL =
    since.length > 0 && recent.some((one) => !isSince(one)) ? middle(since.slice(0, count)) : null;
  const atTripL = heldL ?? first?.litres ?? null;
  return atTripL === null || middle(since.slice(-count)) - atTripL <= noticeableL;
}
