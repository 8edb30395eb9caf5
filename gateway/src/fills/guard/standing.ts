import type { DrumWitnesses } from "../drum-witnesses.ts";
import { usualFlowLPerMin } from "../learned.ts";
import { anyFlows } from "./any-flows.ts";
import type { Guard } from "./guard.ts";
import type { GuardState } from "./guard-state.ts";
import { type GuardFacts, meterOf } from "./stop-rules.ts";

/** It calls and nothing comes for so long. */
const vainMs = 10 * 60_000;
/** What is less than this share of the usual flow fills no drum. */
const trickleShare = 0.1;
/** A pump that runs for so long without water runs dry. */
const pumpDryMs = 60_000;
/** In mid-fill the level stands while the float calls for so long. */
const standsMs = 3 * 60_000;
/** … and for as long as slow water takes to show: so many times what its noise hides, an hour at most. */
const seenTimes = 3;
const slowestMs = 60 * 60_000;
/**
 * The level does not follow a meter for so long: a person who draws as much as comes in stands there for a few minutes,
 * and litres are compared at the fill's end anyhow. Slow nodes need their dozen readings.
 */
const behindMs = 6 * 60_000;
const behindPeriods = 12;
/** What the meter must have counted meanwhile: more than noise, and than 5 L. */
const standsL = 5;
const standsShare = 0.05;

/** No more than a trickle comes: under a tenth of the usual flow, by the witness that counts it. */
function trickles({ said, learned }: GuardFacts): boolean {
  const usual = usualFlowLPerMin(learned);
  const flow = meterOf(said)?.steadyLPerMin ?? said.level?.flowLPerMin ?? null;
  return usual !== null && flow !== null && flow < trickleShare * usual;
}

/** It calls, or a person fills it, and no witness sees water, or no more than a trickle. */
export function followVain(state: GuardState, facts: GuardFacts): Guard["noInflow"] {
  const { said } = facts;
  const tMs = said.atMs;
  const flows = anyFlows(said);
  const isWanted = facts.callSinceMs !== null || said.person?.flowing === true;
  const isVain = isWanted && (flows === false || (flows === true && trickles(facts)));
  state.vainSinceMs = isVain ? (state.vainSinceMs ?? tMs) : null;
  if (state.vainSinceMs === null) return null;
  const sinceMs = state.vainSinceMs;
  const { pump } = said;
  if (pump?.flowing && tMs - Math.max(sinceMs, pump.sinceMs) >= pumpDryMs) return { sinceMs, pumpRuns: true };
  return tMs - sinceMs >= vainMs ? { sinceMs } : null;
}

/** The meter counts and the level does not follow: less than a third of it in 6 min. */
export function levelStands(state: GuardState, { said, drum }: GuardFacts): boolean {
  const meter = meterOf(said);
  const levelL = said.level?.inflowL ?? null;
  if (!meter?.flowing || meter.isShared || levelL === null || said.level?.flowing === null) {
    state.beside = null;
    return false;
  }
  state.beside ??= { tMs: said.atMs, meterL: meter.totalL, levelL };
  const { beside } = state;
  const counted = meter.totalL - (beside.meterL as number);
  const rose = levelL - (beside.levelL as number);
  if (rose >= counted / 3) {
    if (counted > standsL) state.beside = null;
    return false;
  }
  const leastL = Math.max(standsL, standsShare * drum.volumeL, 2 * (said.level?.noticeableL ?? 0));
  const leastMs = Math.max(behindMs, behindPeriods * (said.level?.periodMs ?? 0));
  return said.atMs - beside.tMs >= leastMs && counted > leastL;
}

/** In mid-fill, the float still calling, the level stands: supply shut, or level stuck. */
function stoppedRising({ said, learned, fill, hadFill, callSinceMs }: GuardFacts): number | null {
  const { level } = said;
  if (!(fill || hadFill) || callSinceMs === null || meterOf(said) || level?.flowing !== false) return null;
  const flow = usualFlowLPerMin(learned) ?? said.greatestFlowLPerMin;
  const hiddenMs = flow ? (seenTimes * level.noticeableL * 60_000) / flow : slowestMs;
  const isLong = said.atMs - level.sinceMs >= Math.max(standsMs, Math.min(slowestMs, hiddenMs));
  return isLong && level.sinceMs > (fill?.startedAtMs ?? callSinceMs) ? level.sinceMs : null;
}

/** The drum fills, as far as anybody knows, and its stop float says nothing more. */
function isFloatSilent(state: GuardState, said: DrumWitnesses, isFilling: boolean): boolean {
  if (!said.stop || said.stop.heard) return false;
  const calledLast = state.calledLast && state.vainSinceMs === null;
  return isFilling || (calledLast && anyFlows(said) !== false);
}

/** The drum fills, and what guards it can't be heard or believed. */
export function followLost(state: GuardState, facts: GuardFacts, pours: boolean | null): Guard["watchLost"] {
  const { said, fill, drum } = facts;
  const tMs = said.atMs;
  const isFilling = fill !== null && pours !== false;
  const { level } = said;
  const isLevelGone = drum.level !== null && (level === null || level.isLost || level.lastL === null);
  const because: NonNullable<Guard["watchLost"]>["because"] | null = isFloatSilent(state, said, isFilling)
    ? "stop-float-silent"
    : isFilling && (pours === null || (isLevelGone && meterOf(said) === null))
      ? "nothing-tells-inflow"
      : null;
  state.lostSinceMs = because === null ? null : (state.lostSinceMs ?? tMs);
  if (because !== null) return { sinceMs: state.lostSinceMs as number, because };
  // One that stands at the brim, or past its trip, has told what it can.
  const standsSinceMs = state.stopFailed === null ? stoppedRising(facts) : null;
  return standsSinceMs === null ? null : { sinceMs: standsSinceMs, because: "level-stands" };
}
