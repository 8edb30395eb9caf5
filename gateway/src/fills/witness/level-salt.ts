import {
  type LevelPlace,
  type LevelReading,
  type LevelTrace,
  medianOfLast,
  noticeableL,
  offsetOf,
} from "./level-trace.ts";

/** A litre of fresh water weighs so much at least, kg: that of 25 °C 0.997 (Kell 1975). */
const leastKgPerL = 0.997;
/** Sea water is at most so much denser than fresh water: 3.2 % at salinity 42 (EOS-80, UNESCO 44, 1983). */
const densestShare = 0.035;
const readings = 3;

/**
 * Salt went into a drum: a sensor under water reads what weighs on it, so `kg` raise it by no more than as many litres of
 * water of the same weight. `kg` null: nobody says; then no more than `wholeKg` in all, what such a drum takes.
 * A rise before it was the salt's too, for all that anybody knows.
 */
export function saltWentIn(
  trace: LevelTrace,
  { kg, wholeKg }: { readonly kg: number | null; readonly wholeKg: number },
  nowMs: number,
): void {
  const { salt } = trace;
  // Begun with the logbook it is known already: the journal tells of it once more.
  if (salt && salt.sinceMs >= nowMs) return;
  const beforeL = salt ? salt.beforeL + salt.roseL : 0;
  const leftL = salt ? salt.mostL - salt.roseL : 0;
  const mostL = kg === null ? Math.max(leftL, wholeKg / leastKgPerL - beforeL) : leftL + kg / leastKgPerL;
  const baseL = trace.heard ? medianOfLast(trace, 5) : null;
  trace.salt = { sinceMs: nowMs, baseL, mostL: Math.max(0, mostL), roseL: 0, beforeL, last: [] };
  if (trace.says !== "flowing" || baseL === null) return;
  trace.says = "still";
  trace.sinceMs = nowMs;
  trace.riseLPerMin = 0;
  trace.still = { tMs: trace.lastMs ?? nowMs, litres: baseL };
  trace.minutes = [];
}

/** No salt dissolves any more, or what rises now may be water. */
export function saltIsOver(trace: LevelTrace): void {
  trace.salt = undefined;
}

/** Its litres are worked out by another density from the next reading on: that step is no draw and no inflow. */
export function weighedAnew(trace: LevelTrace): void {
  trace.isWeighedAnew = true;
}

/** Takes the step that a new density makes off the next reading, litres as it says them. */
export function takeStep(trace: LevelTrace, place: LevelPlace, litres: number): void {
  if (!trace.isWeighedAnew) return;
  trace.isWeighedAnew = undefined;
  const before = trace.heard ? medianOfLast(trace, 5) : null;
  if (before === null) return;
  const stepL = litres + offsetOf(trace) - before;
  if (Math.abs(stepL) <= densestShare * litres + noticeableL(trace, place))
    trace.saltL = (trace.saltL ?? 0) + stepL;
}

/** A meter of its own counts, its valve stands open, its float has begun to call or a person to fill it since. */
const doesWaterCome = ({ meteredLPerMin, openSinceMs, callsSinceMs }: LevelPlace, sinceMs: number) =>
  (meteredLPerMin ?? 0) > 0 || openSinceMs !== null || (callsSinceMs !== null && callsSinceMs >= sinceMs);

/** Of a rise, what the salt may have done; that is no inflow. L. */
export function saltsShare(trace: LevelTrace, riseL: number): number {
  const { salt } = trace;
  if (!salt) return 0;
  const byL = Math.max(0, Math.min(riseL, salt.mostL - salt.roseL));
  salt.roseL += byL;
  trace.saltL = (trace.saltL ?? 0) + byL;
  return byL;
}

/** Follows a believed reading, litres as it says them: it rises over where it stood by the salt first; not before there was any. */
export function followSalt(trace: LevelTrace, place: LevelPlace, { tMs, litres }: LevelReading): void {
  const { salt } = trace;
  if (!salt || tMs < salt.sinceMs) return;
  if (doesWaterCome(place, salt.sinceMs)) {
    saltIsOver(trace);
    return;
  }
  const withoutL = litres + offsetOf(trace) + salt.roseL;
  salt.baseL ??= withoutL;
  salt.last = [...salt.last, withoutL].slice(-readings);
  if (salt.last.length < readings) return;
  const [, middle] = [...salt.last].sort((a, b) => a - b) as [number, number, number];
  const byL = saltsShare(trace, middle - salt.baseL - salt.roseL);
  // A sack at once: the readings that showed it already lie where they did before it, else the next ones fell.
  if (byL > noticeableL(trace, place) / 2) lower(trace, salt.baseL, byL);
}

function lower(trace: LevelTrace, baseL: number, byL: number): void {
  const lowered = (reading: LevelReading): LevelReading =>
    reading.litres > baseL + byL / 2 ? { tMs: reading.tMs, litres: reading.litres - byL } : reading;
  trace.recent = trace.recent.map(lowered);
  trace.minutes = trace.minutes.map(lowered);
}
