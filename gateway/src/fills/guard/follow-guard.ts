import { nodeOf } from "../../line/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import { anyFlows } from "./any-flows.ts";
import { followClosed } from "./closed.ts";
import { markNow, meterOf } from "./counted.ts";
import { followLong } from "./follow-long.ts";
import type { Guard, StopFailed } from "./guard.ts";
import type { GuardFacts } from "./guard-facts.ts";
import type { GuardState, Mark } from "./guard-state.ts";
import { followRunsOn } from "./runs-on.ts";
import { followLost, followVain, levelStands } from "./standing.ts";
import {
  beganWet,
  isServing,
  isStopWetNow,
  pauseMs,
  runsIntoAnother,
  tripBound,
  whichRule,
} from "./stop-rules.ts";

const unplannedMs = 3 * 60_000;
/** A level that does not rise for so long while the float calls is in doubt. */
const doubtMs = 5 * 60_000;

function followTrip(state: GuardState, facts: GuardFacts, tMs: number): void {
  const { stop, meters, level } = facts.said;
  const wet = isStopWetNow(facts.said);
  if (wet === true && state.stopWet === false)
    state.trip = { ...markNow(facts, stop?.sinceMs ?? tMs), graceOver: null };
  if (wet === false) {
    state.trip = null;
    state.wetInflow = null;
  }
  if (wet !== null) state.stopWet = wet;
  // Inflow had ended, heard or in a silence: what runs now is another one.
  if (anyFlows(facts.said) && state.stillSinceMs !== null && tMs - state.stillSinceMs >= pauseMs)
    state.trip = null;
  const { trip } = state;
  if (!trip) return;
  if (!trip.graceOver && tMs - trip.tMs >= facts.graceMs) trip.graceOver = markNow(facts, tMs);
  // Still means 0 for 2 min, not one 0.
  const zeroMs = meters.find(({ flowing, isLate }) => flowing !== null && !isLate)?.zeroSinceMs;
  const isMeterStill = zeroMs === undefined ? null : zeroMs !== null && tMs - zeroMs >= pauseMs;
  const isLevelStill = level?.flowing === undefined || level.flowing === null ? null : !level.flowing;
  const still = [isMeterStill, isLevelStill].filter((told) => told !== null);
  if (trip.graceOver && still.length > 0 && still.every(Boolean)) state.trip = null;
}

/**
 * What a meter's node had kept tells of no water of now; but that it ran, or stood, before it was heard of now: then what runs
 * now has not begun anew.
 */
function followKept(state: GuardState, { meters }: DrumWitnesses): void {
  const kept = meters.find(({ isLate, flowing }) => isLate === true && flowing !== null);
  if (!kept || (state.stillSinceMs !== null && kept.sinceMs < state.stillSinceMs)) return;
  if (kept.flowing) state.stillSinceMs = null;
  else state.stillSinceMs ??= kept.sinceMs;
}

/** What runs can only run into this drum, as far as anybody knows: by its level, or by a meter that serves no other that fills. */
const isOwnInflow = (state: GuardState, facts: GuardFacts): boolean =>
  facts.said.level?.flowing === true || !isServing(state, facts);

/** What a meter counts for another drum is not counted for this one. */
function followServed(state: GuardState, facts: GuardFacts, tMs: number): void {
  const { said } = facts;
  const meter = meterOf(said);
  const serves =
    meter?.isShared === true && said.others.some(({ flowing, calls }) => flowing !== false || calls);
  if (serves || runsIntoAnother(said)) state.servedMs = tMs;
  const { trip } = state;
  if (meter && trip?.graceOver && isServing(state, facts)) trip.graceOver.meterL = meter.totalL;
}

/** Inflow that begins two minutes or more after it had ended, with the float wet. */
function followWetInflow(state: GuardState, facts: GuardFacts, tMs: number): void {
  const { said } = facts;
  const flows = anyFlows(said);
  const isWet = isStopWetNow(said) === true;
  if (flows === null) followKept(state, said);
  if (flows === true) {
    const stoodMs = state.stillSinceMs === null ? Number.POSITIVE_INFINITY : tMs - state.stillSinceMs;
    const sinceTripMs = isWet ? tMs - (said.stop?.sinceMs ?? tMs) : 0;
    const isOther =
      stoodMs >= pauseMs && (state.stillSinceMs !== null || sinceTripMs >= pauseMs || facts.fill === null);
    const isNoted = state.wetInflow !== null;
    const isSaid = beganWet(facts);
    if (
      isWet &&
      !isNoted &&
      isOther &&
      state.trip === null &&
      (!said.person?.flowing || isSaid) &&
      isOwnInflow(state, facts)
    )
      state.wetInflow = { ...markNow(facts, tMs), ...(isSaid && { isSaid: true as const }) };
    // They say that it is over: what runs on is counted from here.
    else if (state.wetInflow?.isSaid && !isSaid) state.wetInflow = markNow(facts, tMs);
    // Another drum's call is often heard a moment after its water is seen to run.
    else if (isNoted && !isOwnInflow(state, facts)) state.wetInflow = null;
    state.stillSinceMs = null;
  } else if (flows === false) {
    state.stillSinceMs ??= tMs;
    if (tMs - state.stillSinceMs >= pauseMs) state.wetInflow = null;
  }
}

/**
 * Inflow that begins in the night into a drum that is filled by hand, and nobody has said that they fill it; or that goes on,
 * its float dry, though somebody said that they have stopped. Where nobody ever says so, it tells nothing.
 */
function followNightInflow(state: GuardState, facts: GuardFacts, tMs: number): void {
  const { said, drum, isNight } = facts;
  if (drum.control !== "manual" || said.person === null) return;
  const flows = anyFlows(said);
  const runsOn = state.isSaid === true && !said.person.flowing && isStopWetNow(said) !== true;
  if (said.person.flowing) state.isSaid = true;
  else delete state.isSaid;
  const began = flows === true && (state.stillSinceMs !== null || runsOn);
  const stoodMs = flows === false && state.stillSinceMs !== null ? tMs - state.stillSinceMs : 0;
  if (
    said.person.flowing ||
    said.addsWater ||
    stoodMs >= pauseMs ||
    (flows === true && !isOwnInflow(state, facts))
  )
    state.nightInflow = null;
  else if (began && !state.nightInflow && isOwnInflow(state, facts) && isNight(tMs))
    state.nightInflow = runsOn ? markNow(facts, tMs) : beganAt(facts, tMs);
}

/** Where inflow that has just been seen began: a level shows slow water only after a while, and tells where it had stood. */
function beganAt(facts: GuardFacts, tMs: number): Mark {
  const { level } = facts.said;
  const now = markNow(facts, tMs);
  if (!level?.flowing || level.stillL === null || meterOf(facts.said)?.flowing) return now;
  return { ...now, tMs: Math.min(tMs, level.sinceMs), levelL: level.stillL };
}

/** Ends what stands: no witness has said for 2 min that water runs; at the brim only a fall of 1 % tells. */
function isOver(state: GuardState, facts: GuardFacts, tMs: number): boolean {
  const { said, drum } = facts;
  const flows = anyFlows(said);
  const litres = said.level?.litres ?? null;
  if (litres !== null && litres >= 0.985 * drum.volumeL) state.brimL = Math.max(state.brimL ?? 0, litres);
  if (state.brimL !== null && litres !== null && litres <= state.brimL - 0.01 * drum.volumeL)
    state.brimL = null;
  if (state.isClosed) state.brimL = null;
  if (flows === null && !state.isClosed) return false;
  state.quietSinceMs = flows ? null : (state.quietSinceMs ?? tMs);
  if (state.brimL !== null) return false;
  return state.quietSinceMs !== null && tMs - state.quietSinceMs >= pauseMs;
}

/** What was seen to contradict another witness, or does not rise though water is to come, guards nothing. */
function isLevelDoubted(state: GuardState, tMs: number): boolean {
  const how = state.disagrees?.how;
  const isVain = state.vainSinceMs !== null && tMs - state.vainSinceMs >= doubtMs;
  return isVain || how === "call-without-level" || how === "level-stands";
}

/** A level that would show the stop's failure before the brim, and is not in doubt. */
function isGuardedByLevel(state: GuardState, facts: GuardFacts): boolean {
  const { said, drum } = facts;
  const bound = tripBound(facts);
  if (isLevelDoubted(state, said.atMs) || !bound || said.level?.lastL == null) return false;
  return bound.tripL + bound.toleranceL <= drum.volumeL;
}

/**
 * Its meter has counted more than fits between where the stop float asks for water and the edge. By hand, and where a person
 * said that they emptied it, it may have begun at the bottom.
 */
function isCountedFull({ fill, drum, said: { stop }, isEmptied }: GuardFacts): boolean {
  const isFromRelease = drum.control === "automatic" && !isEmptied;
  const fromL = isFromRelease ? (stop?.releasesAtL ?? 0) : 0;
  const roomL = drum.volumeL - fromL + (fill?.drawnL ?? 0);
  return (fill?.meterL ?? 0) > 1.1 * roomL + 2;
}

/** Stop and overflow float are read by the same node: one cut cable, or one wet plug, takes both. */
function shareCable({ floats }: GuardFacts["drum"]): boolean {
  const nodes = floats
    .filter(({ role }) => role === "stop" || role === "overflow")
    .map(({ channel }) => nodeOf(channel));
  return nodes.length < 2 || new Set(nodes).size < nodes.length;
}

/**
 * An overflow float that was proved in time, is heard, hangs dry and does not flicker. One that hangs dry over more than fits
 * is in doubt: a wire that both floats share is cut, or somebody draws. Where each has a node of its own, somebody draws.
 */
function isGuardedByOverflow(facts: GuardFacts): boolean {
  const { overflowProvedUntilMs } = facts;
  const { overflow, atMs } = facts.said;
  if (overflowProvedUntilMs === null || atMs > overflowProvedUntilMs) return false;
  if (shareCable(facts.drum) && isCountedFull(facts)) return false;
  return overflow?.heard === true && overflow.wet === false && !overflow.chatters;
}

function guardsOf(state: GuardState, facts: GuardFacts): Guard["guardedBy"] {
  return [
    ...(isGuardedByLevel(state, facts) ? (["level"] as const) : []),
    ...(isGuardedByOverflow(facts) ? (["overflow"] as const) : []),
  ];
}

/** Remembers that two witnesses contradict each other, until a fill in which they agree. */
export function noteDisagreement(
  state: GuardState,
  facts: GuardFacts,
  how: NonNullable<Guard["disagrees"]>["how"],
  isOnce?: true,
): void {
  const was = state.disagrees;
  if (was && (isOnce || !was.isOnce)) return;
  state.disagrees = {
    sinceMs: was?.sinceMs ?? facts.said.atMs,
    how,
    guarded: false,
    ...(isOnce && { isOnce }),
  };
  state.disagrees = { ...state.disagrees, guarded: guardsOf(state, facts).length > 0 };
}

/** It only says that the level is high: it stays so after the inflow has ended. */
const isHigh = ({ reason }: StopFailed): boolean => reason === 1 || reason === 5;

/** Goes on with what the witnesses say now, and gives the drum's guard. */
export function followGuard(state: GuardState, facts: GuardFacts, pours: boolean | null): Guard {
  const { said, drum } = facts;
  const tMs = said.atMs;
  followClosed(state, said);
  followTrip(state, facts, tMs);
  followServed(state, facts, tMs);
  followNightInflow(state, facts, tMs);
  followWetInflow(state, facts, tMs);
  const noInflow = followVain(state, facts);
  if (levelStands(state, facts)) {
    // What contradicted each other before was told with a level that guards; now it does not.
    if (state.disagrees?.guarded && state.disagrees.how !== "level-stands") state.disagrees = null;
    noteDisagreement(state, facts, "level-stands");
  }
  const rule = whichRule(state, facts, tMs);
  const restsL = said.level?.litres ?? said.level?.lastL ?? null;
  const stands = state.stopFailed;
  if (rule && (!stands || (stands.attention === "tell" && rule.attention === "wake"))) {
    state.stopFailed = { ...rule, sinceMs: stands?.sinceMs ?? rule.sinceMs };
    state.quietSinceMs = null;
  } else if (stands) {
    if (rule) state.stopFailed = { ...stands, litres: rule.litres ?? stands.litres };
    if (isOver(state, facts, tMs) && (!rule || isHigh(rule))) {
      state.stopFailed = null;
      state.brimL = null;
      state.restsL = restsL;
      state.seen = {};
    }
  }
  followLong(state, facts, pours === true);
  const guardedBy = guardsOf(state, facts);
  const watchLost = followLost(state, facts, { pours, isGuarded: guardedBy.length > 0 });
  if (said.stop?.heard && said.stop.wet !== null) state.calledLast = facts.callSinceMs !== null;
  return {
    drum: drum.id,
    atMs: tMs,
    notStopping: state.stopFailed,
    long: state.long,
    disagrees: state.disagrees,
    noInflow,
    watchLost,
    unplanned: unplannedOf(state, facts),
    runsOn: followRunsOn(state, facts),
    guardedBy,
  };
}

function unplannedOf(state: GuardState, facts: GuardFacts): Guard["unplanned"] {
  const mark = state.wetInflow ?? state.nightInflow;
  if (!mark || beganWet(facts) || facts.said.atMs - mark.tMs < unplannedMs || anyFlows(facts.said) === false)
    return null;
  const now = markNow(facts, mark.tMs);
  const litres = Math.max(
    now.meterL !== null && mark.meterL !== null ? now.meterL - mark.meterL : 0,
    now.levelL !== null && mark.levelL !== null ? now.levelL - mark.levelL : 0,
  );
  return litres > Math.max(0.01 * facts.drum.volumeL, facts.said.level?.noticeableL ?? 0)
    ? { sinceMs: mark.tMs, litres }
    : null;
}
