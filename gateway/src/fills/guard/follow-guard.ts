import type { DrumWitnesses } from "../drum-witnesses.ts";
import { extentOf, usualFlowLPerMin } from "../learned.ts";
import type { FillIsLong, Guard } from "./guard.ts";
import type { GuardState } from "./guard-state.ts";
import { type GuardFacts, markNow, meterOf, pauseMs, tripBound, whichRule } from "./stop-rules.ts";

const vainMs = 10 * 60_000;
const standsMs = 3 * 60_000;
const unplannedMs = 3 * 60_000;
/** Flow before any was seen, L/min: typical, not yours (common practice, no source). */
const templateFlowLPerMin = 2;
const templateMembraneLPerMin = 0.2;

const either = (a: boolean | null, b: boolean | null): boolean | null =>
  a === true || b === true ? true : a === false || b === false ? false : null;

/** Whether any credible witness says that water runs, or (null) none can tell. */
function anyFlows({ meters, level, inlet }: DrumWitnesses): boolean | null {
  let flows = either(level?.flowing ?? null, inlet?.flowing ?? null);
  for (const { flowing } of meters) flows = either(flows, flowing);
  return flows;
}

function followTrip(state: GuardState, facts: GuardFacts, tMs: number): void {
  const { stop, meters, level } = facts.said;
  const wet = stop?.heard ? stop.wet : null;
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
  const zeroMs = meters.find(({ flowing }) => flowing !== null)?.zeroSinceMs;
  const isMeterStill = zeroMs === undefined ? null : zeroMs !== null && tMs - zeroMs >= pauseMs;
  const isLevelStill = level?.flowing === undefined || level.flowing === null ? null : !level.flowing;
  const still = [isMeterStill, isLevelStill].filter((told) => told !== null);
  if (trip.graceOver && still.length > 0 && still.every(Boolean)) state.trip = null;
}

/** Inflow that begins two minutes or more after it had ended, with the float wet. */
function followWetInflow(state: GuardState, facts: GuardFacts, tMs: number): void {
  const { said } = facts;
  const flows = anyFlows(said);
  const meter = meterOf(said);
  const serves = meter?.isShared === true && said.others.some(({ flowing }) => flowing !== false);
  const byLevel = said.level?.flowing === true;
  const isWet = said.stop?.heard === true && said.stop.wet === true;
  if (flows === true) {
    const stoodMs = state.stillSinceMs === null ? Number.POSITIVE_INFINITY : tMs - state.stillSinceMs;
    const sinceTripMs = isWet ? tMs - (said.stop?.sinceMs ?? tMs) : 0;
    const isOther =
      stoodMs >= pauseMs && (state.stillSinceMs !== null || sinceTripMs >= pauseMs || facts.fill === null);
    const isNoted = state.wetInflow !== null;
    if (isWet && !isNoted && isOther && state.trip === null && !said.person?.flowing && (byLevel || !serves))
      state.wetInflow = markNow(facts, tMs);
    state.stillSinceMs = null;
  } else if (flows === false) {
    state.stillSinceMs ??= tMs;
    if (tMs - state.stillSinceMs >= pauseMs) state.wetInflow = null;
  }
}

/** Ends what stands: no witness has said for 2 min that water runs; at the brim only a fall of 1 % tells. */
function isOver(state: GuardState, facts: GuardFacts, tMs: number): boolean {
  const { said, drum } = facts;
  const flows = anyFlows(said);
  const litres = said.level?.litres ?? null;
  if (litres !== null && litres >= 0.985 * drum.volumeL) state.brimL = Math.max(state.brimL ?? 0, litres);
  if (state.brimL !== null && litres !== null && litres <= state.brimL - 0.01 * drum.volumeL)
    state.brimL = null;
  if (flows === null) return false;
  state.quietSinceMs = flows ? null : (state.quietSinceMs ?? tMs);
  if (state.brimL !== null) return false;
  return state.quietSinceMs !== null && tMs - state.quietSinceMs >= pauseMs;
}

function templateFlow(facts: GuardFacts): number {
  return facts.graceMs > pauseMs ? templateMembraneLPerMin : templateFlowLPerMin;
}

/** Whether the running fill is outside what its history explains. */
function longFill(facts: GuardFacts, pours: boolean, tMs: number): FillIsLong | null {
  const { fill, drum, learned, said } = facts;
  if (!fill || !pours) return null;
  const extent = extentOf(learned);
  const manual = drum.control === "manual";
  const ranMs = tMs - fill.startedAtMs;
  const litres = Math.max(fill.meterL ?? -1, fill.levelL ?? -1);
  const believed = litres >= 0;
  const over = (by: FillIsLong["by"], value: number, limit: number): FillIsLong | null =>
    value > limit ? { sinceMs: tMs, by, value, limit, manual } : null;
  const minutes = ranMs / 60_000;
  if (!extent) {
    const flow = usualFlowLPerMin(learned) ?? meterOf(said)?.flowLPerMin ?? (said.level?.flowLPerMin || null);
    return over("time", minutes, (drum.volumeL / (flow || templateFlow(facts))) * 1.5);
  }
  if (believed && extent.litres !== null) return over("litres", litres, 1.25 * extent.litres);
  return manual
    ? over("time", minutes, (1.2 * extent.longestMs) / 60_000)
    : over("time", minutes, (1.5 * extent.durationMs) / 60_000);
}

function guardsOf(facts: GuardFacts): Guard["guardedBy"] {
  const { said, drum } = facts;
  const bound = tripBound(facts);
  const level =
    said.level !== null &&
    said.level.lastL !== null &&
    bound !== null &&
    bound.tripL + bound.toleranceL <= drum.volumeL;
  // An overflow float counts only once its proof is on record, and no record of proofs reaches here yet.
  return level ? ["level"] : [];
}

/** Remembers that two witnesses contradict each other, until a fill in which they agree. */
export function noteDisagreement(
  state: GuardState,
  facts: GuardFacts,
  how: NonNullable<Guard["disagrees"]>["how"],
): void {
  state.disagrees ??= { sinceMs: facts.said.atMs, how, guarded: guardsOf(facts).length > 0 };
}

/** It calls, or a person fills it, and no witness sees water. */
function followVain(state: GuardState, facts: GuardFacts, tMs: number): void {
  const { said, drum } = facts;
  const calls = drum.control === "automatic" && said.stop?.heard === true && said.stop.wet === false;
  const sees = said.meters.some(({ flowing }) => flowing !== null) || said.level?.flowing != null;
  const isVain = sees && anyFlows(said) === false && (calls || said.person?.flowing === true);
  state.vainSinceMs = isVain ? (state.vainSinceMs ?? tMs) : null;
  const meterRuns = meterOf(said)?.flowing === true && meterOf(said)?.isShared !== true;
  const isStanding =
    said.level?.flowing === false && (meterRuns || (calls && facts.fill !== null && meterOf(said) === null));
  state.standsSinceMs = isStanding ? (state.standsSinceMs ?? tMs) : null;
}

/** Goes on with what the witnesses say now, and gives the drum's guard. */
export function followGuard(state: GuardState, facts: GuardFacts, pours: boolean | null): Guard {
  const { said, fill, drum } = facts;
  const tMs = said.atMs;
  followTrip(state, facts, tMs);
  followWetInflow(state, facts, tMs);
  followVain(state, facts, tMs);
  const meter = meterOf(said);
  const standsForMs = state.standsSinceMs === null ? 0 : tMs - state.standsSinceMs;
  const missedL = ((meter?.flowLPerMin ?? 0) * standsForMs) / 60_000;
  if (standsForMs >= standsMs && missedL > Math.max(5, 0.02 * drum.volumeL))
    noteDisagreement(state, facts, "level-stands");
  const rule = whichRule(state, facts, tMs);
  const stands = state.stopFailed;
  if (rule && (!stands || (stands.attention === "tell" && rule.attention === "wake"))) {
    state.stopFailed = { ...rule, sinceMs: stands?.sinceMs ?? rule.sinceMs };
    state.quietSinceMs = null;
  } else if (stands) {
    if (rule) state.stopFailed = { ...stands, litres: rule.litres ?? stands.litres };
    if (isOver(state, facts, tMs) && !rule) {
      state.stopFailed = null;
      state.brimL = null;
    }
  }
  const long = longFill(facts, pours === true, tMs);
  state.long = fill ? (long ? { ...long, sinceMs: state.long?.sinceMs ?? tMs } : state.long) : null;
  const isFilling = fill !== null && pours !== false;
  const silentStop = said.stop !== null && !said.stop.heard;
  const isLost = isFilling && (pours === null || silentStop);
  state.lostSinceMs = isLost ? (state.lostSinceMs ?? tMs) : null;
  const standsLong = state.standsSinceMs !== null && tMs - state.standsSinceMs >= standsMs;
  return {
    drum: drum.id,
    atMs: tMs,
    notStopping: state.stopFailed,
    long: state.long,
    disagrees: state.disagrees,
    noInflow:
      state.vainSinceMs !== null && tMs - state.vainSinceMs >= vainMs ? { sinceMs: state.vainSinceMs } : null,
    watchLost:
      state.lostSinceMs !== null
        ? {
            sinceMs: state.lostSinceMs,
            because: pours === null ? "nothing-tells-inflow" : "stop-float-silent",
          }
        : standsLong && meterOf(said) === null
          ? { sinceMs: state.standsSinceMs as number, because: "level-stands" }
          : null,
    unplanned:
      state.wetInflow !== null && tMs - state.wetInflow.tMs >= unplannedMs ? unplannedOf(state, facts) : null,
    guardedBy: guardsOf(facts),
  };
}

function unplannedOf(state: GuardState, facts: GuardFacts): Guard["unplanned"] {
  const mark = state.wetInflow;
  if (!mark) return null;
  const now = markNow(facts, mark.tMs);
  const litres = Math.max(
    now.meterL !== null && mark.meterL !== null ? now.meterL - mark.meterL : 0,
    now.levelL !== null && mark.levelL !== null ? now.levelL - mark.levelL : 0,
  );
  return litres > 0.01 * facts.drum.volumeL ? { sinceMs: mark.tMs, litres } : null;
}
