import { anyFlows } from "./any-flows.ts";
import type { Guard } from "./guard.ts";
import type { GuardFacts } from "./guard-facts.ts";
import type { GuardState } from "./guard-state.ts";
import { isStopWetNow } from "./stop-rules.ts";

/** A float that trips so soon after a person stopped was reached by the last of their water, ms. */
const lastWaterMs = 2 * 60_000;
/** One that trips later than this was reached by something else: a bucket that nobody spoke of (common practice, no source). */
const leftOpenMs = 30 * 60_000;

/** A level that is believed sees what comes in, though not while a bucket is drawn. */
const seesWater = ({ said: { level } }: GuardFacts): boolean => level !== null && level.lastL !== null;

/**
 * A person said that they stopped, the float still dry, and some minutes after it trips, where neither a meter nor a level could
 * tell that water ran on: the tap was left open. Over once it is dry again, or a person says that they fill it or that they closed
 * the supply; null: nothing is the matter.
 */
export function followRunsOn(state: GuardState, facts: GuardFacts): Guard["runsOn"] {
  const { person, stop } = facts.said;
  const wet = isStopWetNow(facts.said);
  if (!person || person.flowing || !stop || wet === null) return null;
  if (wet === false) {
    // Wet and dry again since: what trips it now is another water.
    const hasTripped = state.stoppedDry?.sinceMs === person.sinceMs && state.stoppedDry.hasTripped;
    const isBefore = stop.sinceMs <= person.sinceMs;
    state.stoppedDry = { sinceMs: person.sinceMs, hasTripped: hasTripped || !isBefore };
    return null;
  }
  const { stoppedDry } = state;
  if (stoppedDry?.sinceMs !== person.sinceMs || stoppedDry.hasTripped) return null;
  if ((state.closedAtMs ?? 0) >= stop.sinceMs) return null;
  const afterMs = stop.sinceMs - person.sinceMs;
  if (afterMs <= lastWaterMs || afterMs > leftOpenMs || stop.chatters || !stop.wetTwice) return null;
  return anyFlows(facts.said) === null && !seesWater(facts) ? { sinceMs: stop.sinceMs } : null;
}
