import { meterOf } from "./counted.ts";
import type { GuardFacts } from "./guard-facts.ts";
import type { GuardState } from "./guard-state.ts";

/** What is drawn by bucket, or for a usual change of water, lets the level rise again before that. */
const nightMs = 10 * 60_000;
/** By day somebody may change most of a drum at once; they stand beside it. */
const dayMs = 25 * 60_000;
/** A level that only wavers while slow water comes falls by less than so often what is noticed. */
const fallTimes = 3;
/** Where a level stands is the middle of so many readings: a seldom one shows late that it rises. */
const readings = 5;

/**
 * Water may come: the valve, where one is read, is open, and no meter sees that none does. By hand a level that stands tells that
 * the tap is shut.
 */
function mayCome({ drum, said: { inlet, level }, said }: GuardFacts): boolean {
  const meter = meterOf(said);
  if (inlet?.flowing === false || meter?.flowing === false) return false;
  return meter?.flowing === true || drum.control === "automatic" || level?.flowing !== false;
}

/** Follows since when the level has not risen by more than noise, while the drum is open for water. */
export function followEbb(state: GuardState, facts: GuardFacts, isOpen: boolean): void {
  const { level, atMs } = facts.said;
  if (!isOpen || !level || !mayCome(facts)) {
    state.ebb = undefined;
    return;
  }
  const { litres } = level;
  if (litres === null) return;
  const { ebb } = state;
  if (!ebb || litres > ebb.lowestL + level.noticeableL)
    state.ebb = { sinceMs: atMs, fromL: litres, lowestL: litres, lowestAtMs: atMs };
  else if (litres < ebb.lowestL) state.ebb = { ...ebb, lowestL: litres, lowestAtMs: atMs };
}

/**
 * The drum loses more than comes in: for ten minutes at night, longer by day, and for as long as slow water takes to show
 * (`hiddenMs`; null: no flow is known), its level has only fallen. How high it may rise guards nothing of that.
 */
export function ebbs(
  { ebb }: GuardState,
  { said: { level, atMs }, isNight }: GuardFacts,
  hiddenMs: number | null,
): boolean {
  if (!ebb || !level) return false;
  const leastMs = Math.max(isNight(atMs) ? nightMs : dayMs, hiddenMs ?? 0) + readings * level.periodMs;
  // What was drawn at once, before slow water, falls no further.
  const stillFalls = atMs - ebb.lowestAtMs <= leastMs / 4;
  return (
    stillFalls && ebb.fromL - ebb.lowestL > fallTimes * level.noticeableL && atMs - ebb.sinceMs >= leastMs
  );
}
