import { ebbs, followEbb } from "./ebb.ts";
import type { FillIsLong } from "./guard.ts";
import type { GuardFacts } from "./guard-facts.ts";
import { followOpened, type GuardState } from "./guard-state.ts";
import { awaitsTrip, isOpenAlone, longFill, personSinceMs } from "./long-fill.ts";
import { hiddenMs } from "./standing.ts";

/** Follows whether what runs, or is called for, is outside what its history explains, and whether it is lost meanwhile. */
export function followLong(state: GuardState, facts: GuardFacts, pours: boolean): void {
  const { said, callSinceMs, fill } = facts;
  const tMs = said.atMs;
  const open = said.inlet?.flowing ?? null;
  state.opened = followOpened(state.opened, { callMs: callSinceMs, open, tMs });
  const isOpen = fill !== null || callSinceMs !== null || personSinceMs(facts) !== null || isOpenAlone(facts);
  followEbb(state, facts, isOpen);
  const long = facts.isAwaiting ? null : longFill(state, facts, pours);
  const { waitsMs: _, loses: __, ...stood } = state.long ?? {};
  const sinceMs = state.long?.sinceMs ?? tMs;
  const isLong = long ? { ...long, sinceMs } : state.long && (stood as FillIsLong);
  const loses = ebbs(state, facts, hiddenMs(facts)) ? { loses: true as const } : {};
  state.long = isOpen && isLong ? { ...isLong, ...awaitsTrip(isLong, said), ...loses } : null;
}
