import type { DrumWitnesses } from "../drum-witnesses.ts";
import { usualFlowLPerMin } from "../learned.ts";
import { isBlurred } from "../record/best-witness.ts";
import { anyFlows } from "./any-flows.ts";
import { isKnownOutage } from "./closed.ts";
import { meterOf } from "./counted.ts";
import type { Guard } from "./guard.ts";
import type { GuardFacts } from "./guard-facts.ts";
import type { GuardState } from "./guard-state.ts";
import { beganWet, pauseMs, risesShare } from "./stop-rules.ts";

/** It calls and nothing comes for so long, ms (common practice, no source). */
export const vainMs = 10 * 60_000;
/** A clock opens its valve at the latest so long after it was shut. */
const shutMs = 24 * 60 * 60_000;
/** What is less than this share of the usual flow fills no drum. */
const trickleShare = 0.1;
/** A pump that runs for so long without water runs dry. */
const pumpDryMs = 60_000;
/** In mid-fill the level stands while the float calls for so long. */
const standsMs = 3 * 60_000;
/** … and for as long as slow water takes to show: so many times what its noise hides. */
const seenTimes = 3;
/** Where no flow is known; and that nothing comes is said after an hour, though noise may hide it. */
const slowestMs = 60 * 60_000;
/** Water too slow to rise by its noise in two minutes is seen by medians of five minutes, of which two must be over. */
const fastMs = 2 * 60_000;
const mediansMs = 12 * 60_000;
/** What the last two minutes rise by is no noise past this share of what is noticeable: 4 standard deviations of one reading. */
const risesOnShare = 2 / 3;
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

/** For so long after it came to rest a level can't tell that water comes; null where no flow is known. */
export function hiddenMs({ said, learned }: GuardFacts): number | null {
  const flow = usualFlowLPerMin(learned) ?? said.greatestFlowLPerMin;
  if (!said.level || !flow) return null;
  const byNoiseMs = (said.level.noticeableL * 60_000) / flow;
  return seenTimes * byNoiseMs + (byNoiseMs > fastMs ? mediansMs : 0);
}

/** It calls, or a person fills it, and no witness sees water, or no more than a trickle. */
export function followVain(state: GuardState, facts: GuardFacts): Guard["noInflow"] {
  const { said } = facts;
  const tMs = said.atMs;
  const flows = anyFlows(said);
  const isWanted = facts.callSinceMs !== null || said.person?.flowing === true;
  const isVain = isWanted && (flows === false || (flows === true && trickles(facts)));
  const { pump, inlet } = said;
  // A clock shuts its valve while the float calls on: that nothing comes then is no doubt of anything.
  const isShut = inlet?.flowing === false && flows === false && !pump?.flowing;
  state.vainSinceMs = isVain && !isShut ? (state.vainSinceMs ?? tMs) : null;
  if (isVain && isShut) {
    const waitsMs = Math.max(inlet.sinceMs, facts.callSinceMs ?? inlet.sinceMs);
    return tMs - waitsMs >= shutMs ? { sinceMs: waitsMs } : null;
  }
  if (state.vainSinceMs === null) return null;
  const sinceMs = state.vainSinceMs;
  if (pump?.flowing && tMs - Math.max(sinceMs, pump.sinceMs) >= pumpDryMs) return { sinceMs, pumpRuns: true };
  if (isKnownOutage(state, tMs)) return null;
  const waitsMs =
    said.level && !meterOf(said) ? Math.max(vainMs, Math.min(slowestMs, hiddenMs(facts) ?? 0)) : vainMs;
  return tMs - sinceMs >= waitsMs ? { sinceMs } : null;
}

/** The meter counts and the level does not follow: it is frozen, or has risen by less than a third of it in 6 min. */
export function levelStands(state: GuardState, { said, drum, callSinceMs }: GuardFacts): boolean {
  const meter = meterOf(said);
  // What a shared one counts may be another drum's, unless this one calls.
  if (said.level?.isFrozen && meter?.flowing && (!meter.isShared || callSinceMs !== null)) return true;
  const levelL = said.level?.inflowL ?? null;
  // One that told that the stop failed has told what it can: at the brim it rises no more.
  const isHigh = state.stopFailed?.reason === 1 || state.stopFailed?.reason === 5;
  if (!meter?.flowing || meter.isShared || levelL === null || said.level?.flowing === null || isHigh) {
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
  // It rises, by less than is counted: somebody draws meanwhile.
  if (rose >= Math.max(2 * (said.level?.noticeableL ?? 0), risesShare * counted)) return false;
  const leastL = Math.max(standsL, standsShare * drum.volumeL, 2 * (said.level?.noticeableL ?? 0));
  const leastMs = Math.max(behindMs, behindPeriods * (said.level?.periodMs ?? 0));
  return said.atMs - beside.tMs >= leastMs && counted > leastL;
}

/** Since when the level has seen nothing drawn: what falls is not stuck. */
function undrawnSinceMs(state: GuardState, { level, atMs }: DrumWitnesses): number {
  if (level) {
    const litres = level.drawnL + level.fallingL;
    if (state.drawn?.litres !== litres) state.drawn = { litres, sinceMs: atMs };
  }
  return state.drawn?.sinceMs ?? 0;
}

/** It came to rest by its medians, which a bucket in slower water holds down, and its last two minutes rise all the same. */
const risesOn = ({ slopeLPerMin, noticeableL }: NonNullable<DrumWitnesses["level"]>): boolean =>
  ((slopeLPerMin ?? 0) * fastMs) / 60_000 > risesOnShare * noticeableL;

/** In mid-fill, the float still calling, the level stands: supply shut, or level stuck. */
function stoppedRising(state: GuardState, facts: GuardFacts): number | null {
  const { said, fill, hadFill, callSinceMs } = facts;
  const { level } = said;
  const undrawnMs = undrawnSinceMs(state, said);
  if (!(fill || hadFill) || callSinceMs === null || meterOf(said) || level?.flowing !== false) return null;
  // Its valve is shut, by a clock: it has no water to rise by.
  if (said.inlet?.flowing === false || risesOn(level)) return null;
  // Somebody draws, by no more than its waves hide: then it stands for as long as they do.
  if (isBlurred(said)) return null;
  // A clock has opened the valve a moment ago: it has stood so long for want of water.
  const standsSinceMs = Math.max(level.sinceMs, undrawnMs, said.inlet?.sinceMs ?? 0);
  const isLong = said.atMs - standsSinceMs >= Math.max(standsMs, hiddenMs(facts) ?? slowestMs);
  return isLong && level.sinceMs > (fill?.startedAtMs ?? callSinceMs) ? standsSinceMs : null;
}

/** The drum fills, as far as anybody knows, and its stop float says nothing more. */
function isFloatSilent(state: GuardState, said: DrumWitnesses, isFilling: boolean): boolean {
  if (!said.stop || said.stop.heard) return false;
  const calledLast = state.calledLast && state.vainSinceMs === null;
  return isFilling || (calledLast && anyFlows(said) !== false);
}

/** It calls, its meter says nothing, and nothing else tells whether water comes: no fill can begin that would be watched. */
const isBlindCall = ({ fill, callSinceMs, said }: GuardFacts): boolean =>
  fill === null && callSinceMs !== null && said.meters.length > 0 && anyFlows(said) === null;

/** A person has said that they fill: water has run since, and is over. */
const isOverSince = ({ stillSinceMs }: GuardState, { person, atMs }: DrumWitnesses): boolean =>
  stillSinceMs !== null && stillSinceMs > (person?.sinceMs ?? 0) && atMs - stillSinceMs >= pauseMs;

/** The drum fills, and what guards it can't be heard or believed. */
export function followLost(
  state: GuardState,
  facts: GuardFacts,
  { pours, isGuarded }: { readonly pours: boolean | null; readonly isGuarded: boolean },
): Guard["watchLost"] {
  const { said, fill, drum } = facts;
  const tMs = said.atMs;
  const isFilling = fill !== null && pours !== false;
  const { level } = said;
  const isCalledBlind = isBlindCall(facts);
  const isLevelGone = drum.level !== null && (level === null || level.isLost || level.lastL === null);
  // A level that falls can't tell what comes in, and guards all the same: by how high it stands.
  const isBlind = pours === null && (drum.level === null || isLevelGone);
  const because: NonNullable<Guard["watchLost"]>["because"] | null = isFloatSilent(state, said, isFilling)
    ? "stop-float-silent"
    : isCalledBlind || (isFilling && (isBlind || (isLevelGone && meterOf(said) === null)))
      ? "nothing-tells-inflow"
      : null;
  state.lostSinceMs = because === null ? null : (state.lostSinceMs ?? tMs);
  if (because !== null) return { sinceMs: state.lostSinceMs as number, because };
  if (!isGuarded && beganWet(facts) && !isOverSince(state, said))
    return {
      sinceMs: said.person?.sinceMs ?? tMs,
      because: "began-wet",
      ...(anyFlows(said) === true && { runs: true as const }),
    };
  // One that stands at the brim, or past its trip, has told what it can.
  const standsSinceMs = state.stopFailed === null ? stoppedRising(state, facts) : null;
  return standsSinceMs === null ? null : { sinceMs: standsSinceMs, because: "level-stands" };
}
