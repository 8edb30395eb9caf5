import type { Drum } from "../../line/index.ts";
import { median } from "../../statistics/index.ts";
import type { DrumWitnesses, FloatSaid, LevelSaid, MeterSaid, Said } from "../drum-witnesses.ts";
import { chatters, wetTwice } from "./float-trace.ts";
import { fallingL, isSettling } from "./level-fall.ts";
import { slopeNow } from "./level-says.ts";
import { inflowLevel, isAstray, type LevelTrace, levelNow, noiseOf, stepOf } from "./level-trace.ts";
import { restsSinceTrip, saysOfBeforeTrip } from "./rests-since-trip.ts";
import { isAtBrim, runsOver } from "./runs-over.ts";
import type { DrumWays } from "./ways.ts";
import { type ContactTrace, releaseOf, saidHeights, type WitnessState } from "./witness-state.ts";

/** A person's "it is over" tells of now for so long. */
const wordOverMs = 2 * 60_000;

/** What a meter says; undefined while nothing was heard of it. */
export function meterSaid(
  state: WitnessState,
  key: string,
  { isShared, hasTaps = null }: { readonly isShared: boolean; readonly hasTaps?: boolean | null },
): MeterSaid | undefined {
  const meter = state.meters.get(key);
  if (!meter) return undefined;
  return {
    key,
    flowing: meter.flowing,
    sinceMs: meter.sinceMs,
    flowLPerMin: meter.flowing === null ? null : meter.flowLPerMin,
    totalL: meter.totalL,
    stillL: meter.stillL ?? meter.totalL,
    bridgedL: meter.bridgedL,
    lastBridgedMs: meter.lastBridgedMs,
    ...(meter.coveredMs === undefined ? {} : { coveredMs: meter.coveredMs }),
    lastMs: meter.lastMs,
    ...(meter.leftOut === undefined ? {} : { leftOut: meter.leftOut }),
    periodMs: meter.periodMs,
    zeroSinceMs: meter.zeroSinceMs,
    steadyLPerMin: meter.lastFlows.length === 0 ? null : median(meter.lastFlows),
    isShared,
    hasTaps,
    ...(meter.isLate === true ? { isLate: true as const } : {}),
  };
}

/** A level still rises, as far as its last minutes tell, for so long after its float has tripped. */
const lingersMs = 5 * 60_000;

/**
 * How fast a level rises, L/min, for the shares of a meter; null where it can't be told: it falls, or has yet to show what
 * comes in since it fell, or it runs over. 0 where its wet float knows better: just after the trip, or while the level
 * itself sees no more than noise.
 */
function sharingSlope(state: WitnessState, trace: LevelTrace, ways: DrumWays, atMs: number): number | null {
  if (!trace.heard || isAstray(trace) || runsOver(state, ways)) return null;
  const { stop } = ways;
  const float = stop && state.floats.get(stop.id);
  const isFull = float?.heard === true && float.wet === true;
  if (isFull && (trace.says !== "flowing" || atMs - float.sinceMs < lingersMs)) return 0;
  if (!isFull && (trace.fall !== null || isSettling(trace))) return null;
  return slopeNow(trace);
}

/**
 * How fast it rises, L/min, where that is asked for: it costs a median of all pairs. Asked by what shares a meter, and by a float that calls
 * where nothing but a level that stands tells of water. Null: not asked, or it can't be told.
 */
function askedSlope(state: WitnessState, trace: LevelTrace, ways: DrumWays, atMs: number): number | null {
  if (ways.sharedWith.length > 0) return sharingSlope(state, trace, ways, atMs);
  const float = ways.stop && state.floats.get(ways.stop.id);
  const calls = float?.heard === true && float.wet === false;
  return calls && ways.meters.length === 0 && trace.says === "still" && !isAstray(trace)
    ? slopeNow(trace)
    : null;
}

function levelSaid(trace: LevelTrace, volumeL: number, slopeLPerMin: number | null): LevelSaid {
  const still = trace.still?.litres;
  const litres = levelNow(trace);
  // Lost and found again it needs its readings before it can tell anew.
  const isNewAgain = trace.says === null && trace.hasSaid === true;
  const isInDraw = trace.heard && !isAstray(trace) && (trace.fall !== null || isSettling(trace));
  const isAway = isAstray(trace) || isInDraw || !trace.heard || isNewAgain;
  return {
    flowing: isAway || trace.says === null ? null : trace.says === "flowing",
    sinceMs: trace.sinceMs,
    flowLPerMin: trace.says === "flowing" ? Math.max(0, slopeNow(trace) ?? trace.riseLPerMin) : 0,
    litres,
    saltL: trace.saltL ?? 0,
    lastL: isAstray(trace) || !trace.heard ? null : trace.lastL,
    readMs: trace.recent.at(-1)?.tMs ?? null,
    lastMs: trace.lastMs,
    inflowL: inflowLevel(trace, litres),
    stillL: still ?? null,
    drawnL: trace.drawnL,
    fallingL: fallingL(trace),
    handL: trace.handL,
    guessedL: trace.guessedL ?? 0,
    sigmaL: noiseOf(trace),
    noticeableL: Math.max(0.01 * volumeL, 6 * noiseOf(trace), 2 * stepOf(trace, volumeL)),
    stepL: stepOf(trace, volumeL),
    periodMs: trace.periodMs,
    slopeLPerMin,
    isLost: isAstray(trace),
    isFrozen: trace.repeats?.isFrozen === true,
    isAway: isAway && trace.lastMs !== null,
    isInDraw,
  };
}

function floatSaid(state: WitnessState, ways: DrumWays, role: "stop" | "overflow"): FloatSaid | null {
  const float = ways[role];
  const trace = float && state.floats.get(float.id);
  if (!float || !trace) return null;
  const movedMs = state.volumes.get(ways.drum.id)?.movedMs;
  const said = role === "stop" ? saidHeights(state, ways.drum.id, float) : float;
  return {
    // After a silence a first reading that differs leaves open which of the two it is.
    wet: trace.silentSinceMs !== null && trace.pending ? null : trace.wet,
    sinceMs: trace.sinceMs,
    heard: trace.heard,
    lastMs: trace.lastMs,
    periodMs: trace.periodMs,
    ...(trace.pending?.wet === true && !chatters(trace) ? { mayBeUp: true as const } : {}),
    wetTwice: wetTwice(trace),
    chatters: chatters(trace),
    edgeInSilence: trace.edgeInSilence,
    tripsAtL: said.tripsAtL,
    ...(role === "stop" && movedMs !== undefined ? { movedMs } : {}),
    releasesAtL: role === "stop" ? releaseOf(state, ways.drum.id, float) : said.releasesAtL,
  };
}

function contactSaid(trace: ContactTrace | undefined): Said | null {
  return trace ? { flowing: trace.open, sinceMs: trace.sinceMs, flowLPerMin: null } : null;
}

function personSaid(state: WitnessState, drum: string, atMs: number): Said | null {
  const word = state.persons.get(drum);
  if (!word) return null;
  const isOld = !word.flowing && atMs - word.sinceMs > wordOverMs;
  return { flowing: isOld ? null : word.flowing, sinceMs: word.sinceMs, flowLPerMin: null };
}

/**
 * The float of a drum that fills by itself is dry, or chatters: then its valve opens and shuts between
 * two readings, whatever they say.
 */
function doesCall(state: WitnessState, { drum, stop }: DrumWays): boolean {
  const float = stop && state.floats.get(stop.id);
  if (drum.control !== "automatic" || !float?.heard) return false;
  return float.wet === false || chatters(float);
}

/**
 * What a drum says of itself, a shared meter left out: level, inlet, call, a person's word. A level that falls says nothing
 * of what comes in meanwhile, nor till it shows whether it rises: its last word stands only where nothing else tells.
 */
function ownWord(state: WitnessState, ways: DrumWays, atMs: number): boolean | null {
  if (runsOver(state, ways)) return true;
  const { drum } = ways;
  const level = state.levels.get(drum.id);
  const byLevel = level?.heard && !isAstray(level) ? level.says : null;
  const isDrawn = level !== undefined && (level.fall !== null || isSettling(level));
  if (level && byLevel !== null && !isDrawn)
    return byLevel === "flowing" || (isAtBrim(level, drum.volumeL) ? null : false);
  const inlet = state.inlets.get(drum.id);
  if (inlet && inlet.open !== null) return inlet.open;
  const stop = ways.stop && state.floats.get(ways.stop.id);
  if (drum.control === "automatic" && stop?.heard && stop.wet !== null) return !stop.wet;
  const person = personSaid(state, drum.id, atMs)?.flowing ?? null;
  return person ?? (byLevel === null ? null : byLevel === "flowing");
}

function pumpHeard({ pumps }: WitnessState): ContactTrace | undefined {
  for (const pump of pumps.values()) if (pump.open !== null) return pump;
  return undefined;
}

function othersOf(
  state: WitnessState,
  all: ReadonlyMap<string, DrumWays>,
  { sharedWith }: DrumWays,
  atMs: number,
): DrumWitnesses["others"] {
  return sharedWith.flatMap((drum) => {
    const ways = all.get(drum);
    const trace = state.levels.get(drum);
    const slopeLPerMin = trace && ways ? sharingSlope(state, trace, ways, atMs) : null;
    return ways
      ? [{ drum, flowing: ownWord(state, ways, atMs), calls: doesCall(state, ways), slopeLPerMin }]
      : [];
  });
}

function latest(meters: readonly MeterSaid[], others: readonly (number | null | undefined)[]): number | null {
  let latestMs: number | null = null;
  const take = (ms: number | null | undefined) => {
    if (typeof ms === "number" && (latestMs === null || ms > latestMs)) latestMs = ms;
  };
  for (const { lastMs } of meters) take(lastMs);
  for (const ms of others) take(ms);
  return latestMs;
}

/** The greatest flow into a drum: as it was seen, or as the file says, whichever is more; null: neither. */
function greatestOf(state: WitnessState, { id, greatestFlowLPerMin }: Drum): number | null {
  const seen = state.greatest.get(id);
  return seen === undefined ? greatestFlowLPerMin : Math.max(seen, greatestFlowLPerMin ?? 0);
}

/** Puts together what everything tells of a drum now. */
export function witnessesOf(
  state: WitnessState,
  all: ReadonlyMap<string, DrumWays>,
  ways: DrumWays,
  atMs: number,
): DrumWitnesses {
  const { drum } = ways;
  const level = state.levels.get(drum.id);
  const inlet = state.inlets.get(drum.id);
  const stop = floatSaid(state, ways, "stop");
  const meters: MeterSaid[] = [];
  for (const { key, sharedWith, hasTaps } of ways.meters) {
    const said = meterSaid(state, key, { isShared: sharedWith.length > 0, hasTaps });
    if (said) meters.push(said);
  }
  const slopeLPerMin = level ? askedSlope(state, level, ways, atMs) : null;
  const ownLevel = level ? levelSaid(level, drum.volumeL, slopeLPerMin) : null;
  const isHigh = level !== undefined && isAtBrim(level, drum.volumeL);
  return {
    drum: drum.id,
    atMs,
    meters,
    level: ownLevel,
    restsSinceTrip: !isHigh && restsSinceTrip(meters, ownLevel, stop),
    ...(level && ownLevel && !isHigh && saysOfBeforeTrip(level, ownLevel, stop)
      ? { levelIsOfBefore: true as const }
      : {}),
    inlet: contactSaid(inlet),
    pump: contactSaid(pumpHeard(state)),
    stop,
    overflow: floatSaid(state, ways, "overflow"),
    person: personSaid(state, drum.id, atMs),
    ...((state.persons.get(drum.id)?.addsUntilMs ?? 0) >= atMs && { addsWater: true as const }),
    runsOver: runsOver(state, ways),
    others: othersOf(state, all, ways, atMs),
    heardMs: latest(meters, [level?.lastMs, inlet?.lastMs, stop?.wet === null ? null : stop?.lastMs]),
    greatestFlowLPerMin: greatestOf(state, drum),
  };
}
