import type { DrumWitnesses } from "../drum-witnesses.ts";
import { drawBefore } from "../learn-doubted.ts";
import { usualFlowLPerMin } from "../learned.ts";
import { brimShare, tripBoundL } from "../trip-bound.ts";
import { anyFlows } from "./any-flows.ts";
import { meterOf, roseSince, since } from "./counted.ts";
import type { GuardReason, StopFailed } from "./guard.ts";
import type { GuardFacts } from "./guard-facts.ts";
import { type GuardState, type Mark, seenTwice } from "./guard-state.ts";
import { lowered } from "./lowered-trip.ts";

/** Inflow that begins so long after it had ended is another one. */
export const pauseMs = 2 * 60_000;
/** A level that is read less often sees only a part of what is drawn while water comes in. */
export const seldomMs = 30_000;
const wetInflowMs = 2 * 60_000;
const wetInflowL = 1;
/** So much of a drum may be added to salt water by hand while its float is wet, where its release is not known. */
const addedShare = 0.25;
/** Of the room between trip and edge: so much may come in, by hand, into a drum whose float was wet before. */
const beganWetShare = 0.75;
/** Of the volume, the room where nobody knows the trip. */
const untaughtShare = 0.1;
const chatterTimes = 2;
/** Of the longest good fill: litres where a witness counts them, time where none does, time in any case, by hand. */
export const litresTimes = 1.25;
/** Of what a meter counts, a level that is alive rises by so much at least while somebody draws. */
export const risesShare = 1 / 6;

/** What a float said longer ago than this came late, and tells nothing of now. */
const staleMs = 5 * 60_000;

/** Whether the stop float is wet, as far as it is heard of now; null: nobody knows. */
export function isStopWetNow({ stop, atMs }: DrumWitnesses): boolean | null {
  return stop?.heard && atMs - stop.lastMs <= staleMs ? stop.wet : null;
}

/** Where a stop float trips, and how far past it the drum may rise, litres. */
interface TripBound {
  readonly tripL: number;
  readonly toleranceL: number;
  /** The level's own noise goes further than all else: no single reading of it tells. */
  readonly isByNoise: boolean;
}

/** Where the stop float trips and how far past it the drum may rise; null where the trip is not known. */
export function tripBound({ drum, learned, said }: GuardFacts): TripBound | null {
  const bound = tripBoundL(learned, said.stop?.tripsAtL ?? null, drum.volumeL, said.level?.stepL ?? 0);
  // Waves at the level are no water past the trip.
  const noiseL = 3 * (said.level?.sigmaL ?? 0);
  return (
    bound && {
      tripL: bound.tripL,
      toleranceL: Math.max(bound.toleranceL, noiseL),
      isByNoise: noiseL > bound.toleranceL,
    }
  );
}

type Failing = {
  readonly litres: number | null;
  readonly limitL: number | null;
  /** A draw that nobody saw would explain it as well. */
  readonly isDoubted?: true;
};

function pastTrip(state: GuardState, facts: GuardFacts, bound: TripBound | null): Failing | null {
  const litres = facts.said.level?.lastL ?? null;
  if (!bound || litres === null) return null;
  if (facts.said.stop?.chatters) state.hasChattered = true;
  else if (litres < bound.tripL - bound.toleranceL) state.hasChattered = false;
  // One that chatters opens and shuts its valve where it swims: it trips in a band, and no more at a height.
  const limitL = bound.tripL + (state.hasChattered ? chatterTimes : 1) * bound.toleranceL;
  // 3 standard deviations of a reading are some 5 of the middle of five: readings pass the first many times a day.
  const leastL = bound.isByNoise ? Math.min(litres, facts.said.level?.litres ?? litres) : litres;
  return leastL > limitL ? { litres, limitL } : null;
}

function atBrim(facts: GuardFacts, bound: TripBound | null): Failing | null {
  const litres = facts.said.level?.lastL ?? null;
  if (litres === null) return null;
  const limitL = Math.max(brimShare * facts.drum.volumeL, bound ? bound.tripL + bound.toleranceL : 0);
  return litres >= limitL ? { litres, limitL } : null;
}

/**
 * A level that rises, by less than its meter counts: somebody draws all the while, and a rise shows no draw. One that
 * stands is stuck, or the water runs elsewhere.
 */
function risesBehind({ levelL, meterL }: NonNullable<GuardFacts["fill"]>, { level }: DrumWitnesses): boolean {
  if (levelL === null || meterL === null || !level) return false;
  return levelL < meterL && levelL >= Math.max(2 * level.noticeableL, risesShare * meterL);
}

function moreThanItHolds(facts: GuardFacts): Failing | null {
  const { fill, drum, said } = facts;
  if (!fill) return null;
  const seesDraws = fill.contentsL !== null && said.level !== null && said.level.periodMs <= seldomMs;
  const limitL = seesDraws
    ? 1.1 * (drum.volumeL - (fill.contentsL ?? 0) + fill.drawnL) + 2
    : 1.1 * drum.volumeL;
  const litres = Math.max(fill.meterL ?? 0, fill.levelL ?? 0);
  if (litres <= limitL) return null;
  // Its part of what a meter counts for several drums is put together, and a draw that its level does not see is in it:
  // by that alone nobody is woken. A level that reads too little looks the same, and no other witness may be left: told.
  const isPart = meterOf(said)?.isShared === true && fill.levelL !== null && fill.levelL <= limitL;
  const isDrawn = seesDraws && litres <= 1.1 * drum.volumeL && risesBehind(fill, said);
  // Told of once, a draw that goes on is told of no more.
  if (isDrawn && litres <= litresTimes * drawBefore(facts.learned, fill.startedAtMs).litres) return null;
  return { litres, limitL, ...((isPart || isDrawn) && { isDoubted: true }) };
}

function afterTrip(state: GuardState, facts: GuardFacts): Failing | null {
  const { trip } = state;
  if (!trip?.graceOver) return null;
  const { drum, said, learned } = facts;
  const meter = meterOf(said);
  const usual = usualFlowLPerMin(learned);
  const litres = since(trip.graceOver, facts);
  const bound = tripBound(facts);
  const room = bound ? Math.max(0, drum.volumeL - bound.tripL) : null;
  const limitL = room === null ? 0.1 * drum.volumeL : Math.max(room / 4, 0.02 * drum.volumeL, 2);
  const others = isServing(state, facts);
  const steady = others ? 0 : (meter?.steadyLPerMin ?? 0);
  if (steady > 0 && (usual === null || steady > 0.1 * usual)) return { litres, limitL };
  if (others) {
    const rose = roseSince(trip.graceOver, facts);
    return rose > limitL ? { litres: rose, limitL } : null;
  }
  return litres !== null && litres > limitL ? { litres, limitL } : null;
}

/** What its meter counts may be another drum's: one calls or fills, or did until just now. */
export const isServing = ({ servedMs }: GuardState, { said, graceMs }: GuardFacts): boolean =>
  servedMs != null && said.atMs - servedMs < graceMs;

/** What a meter before several drums counts runs into another one of them: its level rises, and this one's does not. */
export function runsIntoAnother(said: DrumWitnesses): boolean {
  const meter = meterOf(said);
  if (!meter?.isShared || said.level?.flowing !== false) return false;
  const halfLPerMin = (meter.steadyLPerMin ?? 0) / 2;
  return said.others.some(
    ({ flowing, slopeLPerMin }) => flowing === true || (slopeLPerMin !== null && slopeLPerMin > halfLPerMin),
  );
}

/**
 * A person says that they fill, and the stop float was wet before: it will end nothing. Where a level with a known trip is
 * read, that one guards.
 */
export function beganWet(facts: GuardFacts): boolean {
  const { person, stop, level } = facts.said;
  if (!person?.flowing || !stop || stop.chatters || isStopWetNow(facts.said) !== true) return false;
  return stop.sinceMs < person.sinceMs && (level?.lastL == null || tripBound(facts) === null);
}

/** What may come in by hand into a drum whose float was wet before, litres: less than fits from its trip to the edge. */
function beganWetLimitL(facts: GuardFacts): number {
  const { volumeL } = facts.drum;
  const bound = tripBound(facts);
  const roomL = bound ? Math.max(0, volumeL - bound.tripL) : untaughtShare * volumeL;
  return Math.max(beganWetShare * roomL, wetInflowL);
}

/** Litres under a wet float that are no failed stop: those that a person adds to salt water, or pours in, as far as they fit. */
function wetLimitL(facts: GuardFacts, { isSaid }: Mark): number {
  const { said, drum } = facts;
  if (said.addsWater) return drum.volumeL - (said.stop?.releasesAtL ?? (1 - addedShare) * drum.volumeL);
  return isSaid && beganWet(facts) ? beganWetLimitL(facts) : wetInflowL;
}

/** By its meter: it has run for two minutes itself, and for no other drum that calls or fills. */
function byMeterAlone(state: GuardState, facts: GuardFacts, mark: Mark, tMs: number): Failing | null {
  const { said } = facts;
  const meter = meterOf(said);
  // What it counts in its first seconds may be another drum's, whose call is heard a moment later.
  if (!meter?.flowing || mark.meterL === null || isServing(state, facts)) return null;
  if (tMs - Math.max(mark.tMs, meter.sinceMs) < wetInflowMs) return null;
  // Whose level rises shows only after a while.
  const waitsForLevels = meter.isShared && said.level?.flowing === false;
  const limitL = Math.max(wetLimitL(facts, mark), waitsForLevels ? 3 * (said.level?.noticeableL ?? 0) : 0);
  const litres = meter.totalL - mark.meterL;
  return litres >= limitL ? { litres, limitL } : null;
}

/** By its level: it has risen by more than its noise, whatever a meter counts. */
function byLevelAlone(facts: GuardFacts, mark: Mark): Failing | null {
  const { said, drum } = facts;
  const { level } = said;
  if (!level?.flowing || level.inflowL === null || mark.levelL === null) return null;
  const limitL = Math.max(wetLimitL(facts, mark), 0.02 * drum.volumeL, level.noticeableL);
  const litres = level.inflowL - mark.levelL;
  return litres >= limitL ? { litres, limitL } : null;
}

function withWetFloat(state: GuardState, facts: GuardFacts, tMs: number): Failing | null {
  const mark = state.wetInflow;
  const { said } = facts;
  // A tap behind the meter is no drum that fills, unless a person says that they fill it.
  if (meterOf(said)?.hasTaps === true && !said.level?.flowing && !beganWet(facts)) return null;
  if (!mark || tMs - mark.tMs < wetInflowMs || anyFlows(said) === false) return null;
  if (runsIntoAnother(said)) return null;
  return byLevelAlone(facts, mark) ?? byMeterAlone(state, facts, mark, tMs);
}

/** How loud a rule is: only what a meter with unknown taps behind it says is no proof that water runs into the drum. */
function attentionOf(reason: GuardReason, facts: GuardFacts): StopFailed["attention"] {
  const { said } = facts;
  if (said.level?.flowing || reason === 1 || reason === 5) return "wake";
  if (reason === 4 && beganWet(facts)) return "wake";
  const meter = meterOf(said);
  // Somebody may draw at a tap behind it: that it runs, and how much, is told of the drum no more than that.
  if (meter?.hasTaps === true) return "tell";
  return reason !== 4 || meter?.hasTaps === false ? "wake" : "tell";
}

/**
 * Water that stood there when an earlier failure was over, and has not risen since: nor has it fallen. Whoever closes the
 * supply when they are woken leaves it just where noise passes the bound time and again.
 */
function rests(state: GuardState, { said: { level }, drum }: GuardFacts): boolean {
  if (state.restsL === null || level?.lastL == null) return false;
  const riseL = Math.max(0.01 * drum.volumeL, level.noticeableL);
  if ((level.litres ?? level.lastL) < state.restsL - riseL) state.restsL = null;
  return state.restsL !== null && level.lastL <= state.restsL + riseL;
}

/** The first rule that shows that the stop has failed, the loudest first; null while none does. */
export function whichRule(state: GuardState, facts: GuardFacts, tMs: number): StopFailed | null {
  const bound = tripBound(facts);
  const past = pastTrip(
    state,
    facts,
    lowered(
      state,
      {
        learned: facts.learned,
        litres: facts.said.level?.lastL ?? null,
        readMs: facts.said.level?.readMs ?? null,
        greatestFlowLPerMin: facts.said.greatestFlowLPerMin ?? 0,
        isWet: facts.said.stop?.heard === true ? facts.said.stop.wet : null,
      },
      bound,
    ),
  );
  const brim = atBrim(facts, bound);
  const isAtRest = rests(state, facts);
  // A float that chatters opens and shuts its valve: that water runs is no proof that it does not stop.
  const chatters =
    facts.said.stop?.chatters === true || (state.hasChattered === true && facts.said.level?.lastL != null);
  const seen: StopFailed[] = [];
  const hear = (reason: GuardReason, failing: Failing | null): void => {
    // How high it stands is said by its level alone: what another witness says meanwhile is no second reading of it.
    const readMs = reason === 1 || reason === 5 ? (facts.said.level?.readMs ?? tMs) : tMs;
    if (!seenTwice(state, reason, failing !== null, readMs) || !failing) return;
    const { litres, limitL, isDoubted } = failing;
    const attention = isDoubted ? "tell" : attentionOf(reason, facts);
    seen.push({ reason, attention, sinceMs: tMs, litres, limitL });
  };
  hear(1, isAtRest ? null : past);
  hear(5, isAtRest ? null : brim);
  hear(2, moreThanItHolds(facts));
  hear(3, chatters ? null : afterTrip(state, facts));
  hear(4, chatters ? null : withWetFloat(state, facts, tMs));
  if (seen.length === 0) return null;
  return seen.find(({ attention }) => attention === "wake") ?? seen[0] ?? null;
}
