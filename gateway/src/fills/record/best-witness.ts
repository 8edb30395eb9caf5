import type { Drum } from "../../line/index.ts";
import type { DrumWitnesses, LevelSaid, MeterSaid, Said } from "../drum-witnesses.ts";
import { seldomMs } from "../guard/stop-rules.ts";
import type { FlowBasis } from "../run.ts";

/** A meter at 0 loses to a level that has risen for so long; one that is seldom read says for some readings that it rises still. */
const meterDoubtMs = 3 * 60_000;
const meterDoubtPeriods = 10;
/** One that is seldom read rises still if it rose within so many readings. */
const latelyPeriods = 5;
const risesWithinMs = 5 * 60_000;
const risesWithinPeriods = 10;
/** A valve that its float drives has shut so long after the trip. */
const followsMs = 60_000;
/** Part of a meter's water goes to a drum whose level rises faster than this, L/min. */
const leastShareLPerMin = 0.2;
/** What the slopes leave of a meter's water is their noise up to this part of it. */
const leftNoise = 0.1;
/** A meter and a float see the same begin no farther apart than so many of their periods. */
export const seenApartPeriods = 3;

/** What is known of the inflow of one drum at one moment, by the best of its witnesses. */
export interface Inflow {
  readonly flowing: boolean | null;
  readonly basis: FlowBasis;
  readonly flowLPerMin: number | null;
  /** Since when, by the time of its readings. */
  readonly sinceMs: number;
  /** The flow of a shared meter, divided between drums that fill at once without levels to tell their shares. */
  readonly estimated: boolean;
  /** Key of the meter that counts, and this drum's share of it. */
  readonly meter: { readonly key: string; readonly share: number } | null;
}

const cannotTell: Inflow = {
  flowing: null,
  basis: "none",
  flowLPerMin: null,
  sinceMs: 0,
  estimated: false,
  meter: null,
};

/** No level is fitted, or it falls, is lost or silent: then the float is the best that is left. */
export const canNotTell = (drum: Drum, { level }: DrumWitnesses): boolean =>
  drum.level === null || level?.isAway === true;

function byLevel(level: LevelSaid): Inflow {
  const { flowing, sinceMs, flowLPerMin } = level;
  return { flowing, basis: "level", flowLPerMin, sinceMs, estimated: false, meter: null };
}

/** A level shows a rise only after two of its windows: so long it does not speak against a person who opened the tap. */
function isTooEarly(level: LevelSaid, { sinceMs }: Said, atMs: number): boolean {
  return atMs - sinceMs < Math.max(risesWithinMs, risesWithinPeriods * level.periodMs);
}

/** Waves hide what fits between the float's release and its trip: a level that stands says nothing against a call. */
export function isBlurred({ level, stop }: DrumWitnesses): boolean {
  if (level?.flowing !== false || !stop?.heard || stop.wet !== false) return false;
  const [top, low] = [stop.tripsAtL, stop.releasesAtL];
  return top !== null && low !== null && low < top && level.noticeableL > (top - low) / 2;
}

/**
 * A valve may stand open before a float that has shut: a clock's does. That is no inflow, once a valve that its float
 * drives would have shut as well (where none runs, or a level is only away for a moment: at once).
 */
function isShutBehind(
  { control }: Drum,
  { inlet, level, stop, atMs }: DrumWitnesses,
  runs: boolean,
): boolean {
  if (!inlet?.flowing || !stop?.heard || stop.wet !== true) return false;
  if (level !== null) return true;
  return control === "automatic" && (!runs || atMs - stop.sinceMs >= followsMs);
}

/** What the drum itself tells, meters left out: level, inlet, call, a person's word. */
function byDrum(drum: Drum, said: DrumWitnesses, silentMeter: boolean, runs: boolean): Inflow {
  const { level, inlet, stop, person } = said;
  if (said.runsOver) return { ...cannotTell, flowing: true };
  const isAwaited =
    level?.flowing === false && person?.flowing === true && isTooEarly(level, person, said.atMs);
  const blurred = isBlurred(said);
  if (level && level.flowing !== null && !isAwaited && !blurred) return byLevel(level);
  if (inlet && inlet.flowing !== null && !isShutBehind(drum, said, runs)) {
    // A valve that has stood open before a float that was up: what runs has run since it turned dry.
    const calledMs = drum.control === "automatic" && stop?.heard && stop.wet === false ? stop.sinceMs : 0;
    const sinceMs = inlet.flowing ? Math.max(inlet.sinceMs, calledMs) : inlet.sinceMs;
    return { ...cannotTell, ...inlet, sinceMs, basis: "inlet", flowLPerMin: inlet.flowing ? null : 0 };
  }
  if (person?.flowing) return { ...cannotTell, ...person, basis: "person" };
  // A dry float only asks for water: where something better tells whether it comes, it is not taken as a witness.
  const asks =
    drum.control === "automatic" && (blurred || canNotTell(drum, said)) && !drum.inlet && !silentMeter;
  if (stop?.heard && stop.wet !== null && (stop.wet || asks))
    return {
      ...cannotTell,
      flowing: !stop.wet,
      basis: "calling-float",
      sinceMs: stop.sinceMs,
      flowLPerMin: stop.wet ? 0 : null,
    };
  if (person && person.flowing !== null) return { ...cannotTell, ...person, basis: "person", flowLPerMin: 0 };
  return cannotTell;
}

/** A shared meter ran before this drum called, and nobody says that it filled: whose water that was, and still is, nobody knows. */
function ranBefore(meter: MeterSaid, { stop }: DrumWitnesses, own: Inflow): boolean {
  const seenApartMs = seenApartPeriods * (meter.periodMs + (stop?.periodMs ?? 0));
  return meter.isShared && own.flowing === true && meter.sinceMs < own.sinceMs - seenApartMs;
}

interface Part {
  readonly share: number;
  readonly estimated: boolean;
}

/**
 * By levels that rise: each takes what its slope shows, and what they leave belongs to the drums that call and can't show
 * yet what comes in (they are drawn from, or were until just now). Null where no level rises.
 */
function bySlopes({ flowLPerMin }: MeterSaid, said: DrumWitnesses, own: Inflow): Part | null {
  const ownSlope = said.level?.slopeLPerMin ?? null;
  const rises = (slope: number | null) => (slope !== null && slope > leastShareLPerMin ? slope : 0);
  const sum = said.others.reduce((all, other) => all + rises(other.slopeLPerMin), rises(ownSlope));
  // Of a drum of which nothing tells nobody knows that it takes none.
  if (!(sum > 0) || (ownSlope === null && own.flowing === null)) return null;
  const isHidden = ownSlope === null && own.flowing === true;
  const hidden = said.others.filter((one) => one.slopeLPerMin === null && (one.calls || one.flowing));
  const count = hidden.length + (isHidden ? 1 : 0);
  const leftL = count > 0 && flowLPerMin !== null ? flowLPerMin - sum : 0;
  const noiseLPerMin = Math.max(leastShareLPerMin, leftNoise * (flowLPerMin ?? 0));
  if (!(leftL > noiseLPerMin)) return { share: rises(ownSlope) / sum, estimated: false };
  const partL = isHidden ? leftL / count : rises(ownSlope);
  return { share: partL / (sum + leftL), estimated: isHidden && count > 1 };
}

type Other = DrumWitnesses["others"][number];

/** Its float hangs wet and its level shows no rise of now: what it still says of one is that of the fill before. */
const isFull = ({ level, stop }: DrumWitnesses): boolean =>
  stop?.heard === true && stop.wet === true && level?.slopeLPerMin === 0;
/** It may take of the meter's water: more than a level that shows no rise of now says that it fills. */
const takes = ({ flowing, calls, slopeLPerMin }: Other): boolean =>
  calls || (flowing === true && slopeLPerMin !== 0);

/** What begins to run is another drum's where one calls, or may be so: of its call is heard a moment later. */
function isOthers(meter: MeterSaid, { stop, others, atMs }: DrumWitnesses): boolean {
  const seenApartMs = seenApartPeriods * (meter.periodMs + (stop?.periodMs ?? 0));
  return others.some(takes) || (others.length > 0 && atMs - meter.sinceMs < seenApartMs);
}

/** This drum's part of a meter that several drums share: by their levels where any rises, else in equal parts. */
function partOf(meter: MeterSaid, said: DrumWitnesses, own: Inflow): Part | null {
  const known = bySlopes(meter, said, own);
  if (known) return known;
  const full = isFull(said);
  if (own.flowing === false || (full && isOthers(meter, said))) return { share: 0, estimated: false };
  const running = said.others.filter((one) => one.flowing && (full || takes(one))).length;
  const silent = said.others.some(({ flowing }) => flowing === null);
  if (own.flowing === null && (running > 0 || silent)) return null;
  const isPutTogether = running > 0 || meter.hasTaps === true || ranBefore(meter, said, own);
  return { share: 1 / (running + 1), estimated: isPutTogether };
}

/**
 * Since when a meter tells this of one drum. What runs on for another drum has ended here when this one's own word turned;
 * a level that still rises where its float has shut has turned to no other word: then the trip is what ended it.
 */
function sharedSinceMs(meter: MeterSaid, { stop }: DrumWitnesses, own: Inflow, share: number): number {
  if (!meter.isShared || own.flowing === null) return meter.sinceMs;
  const isShut = share === 0 && own.flowing && stop?.heard === true && stop.wet === true;
  return Math.max(meter.sinceMs, isShut ? Math.max(own.sinceMs, stop.sinceMs) : own.sinceMs);
}

function byMeter(meter: MeterSaid, said: DrumWitnesses, own: Inflow): Inflow | null {
  const found = { basis: "flow-meter", sinceMs: meter.sinceMs, estimated: false } as const;
  if (!meter.flowing)
    return { ...found, flowing: false, flowLPerMin: 0, meter: { key: meter.key, share: 1 } };
  const part = meter.isShared ? partOf(meter, said, own) : { share: 1, estimated: false };
  if (!part) return null;
  return {
    flowing: part.share > 0,
    basis: "flow-meter",
    flowLPerMin: meter.flowLPerMin === null ? null : meter.flowLPerMin * part.share,
    sinceMs: sharedSinceMs(meter, said, own, part.share),
    estimated: part.estimated,
    meter: { key: meter.key, share: part.share },
  };
}

/** Where the level stood when the meter last came to 0. */
export interface MeterZero {
  readonly sinceMs: number;
  readonly levelL: number;
  /** The highest that it rose to since, and when; absent in rows of versions before. */
  readonly roseL?: number;
  readonly roseMs?: number;
}

/** Whether a level has risen for 3 min (10 of its periods where it is seldom read), by more than noise, while the meter stands at 0: the meter is not believed. */
export function meterMisses(said: DrumWitnesses, zero: MeterZero | null): boolean {
  const { level } = said;
  const isSeldom = level !== null && level.periodMs > seldomMs;
  // What ran in before the meter came to 0 is in the next reading of the level.
  const lateL = isSeldom ? ((said.greatestFlowLPerMin ?? 0) * level.periodMs) / 60_000 : 0;
  return (
    zero !== null &&
    level?.flowing === true &&
    level.inflowL !== null &&
    said.atMs - Math.max(level.sinceMs, zero.sinceMs) >=
      (isSeldom ? meterDoubtPeriods * level.periodMs : meterDoubtMs) &&
    // A level that has come to rest a moment ago still says that it rises.
    (!isSeldom || said.atMs - (zero.roseMs ?? zero.sinceMs) < latelyPeriods * level.periodMs) &&
    level.flowLPerMin !== null &&
    level.flowLPerMin > leastShareLPerMin &&
    level.inflowL - zero.levelL > level.noticeableL + lateL
  );
}

/** Goes on with the mark of the meter's last 0. */
export function markZero(said: DrumWitnesses, zero: MeterZero | null): MeterZero | null {
  const meter = said.meters.find(({ flowing }) => flowing !== null);
  const levelL = said.level?.inflowL ?? null;
  if (!meter || meter.zeroSinceMs === null || levelL === null) return null;
  // One that tells of a time before has yet to catch up with it.
  if ((said.level?.lastMs ?? 0) < meter.zeroSinceMs) return null;
  if (zero?.sinceMs !== meter.zeroSinceMs) return { sinceMs: meter.zeroSinceMs, levelL };
  const rises = levelL - (zero.roseL ?? zero.levelL) > (said.level?.noticeableL ?? 0) / 2;
  return rises ? { ...zero, roseL: levelL, roseMs: said.atMs } : zero;
}

/** The inflow as it was where nothing has changed: what is known of it then stays the same thing. */
export function unlessSame(now: Inflow, was: Inflow): Inflow {
  const isSame =
    now.flowing === was.flowing &&
    now.basis === was.basis &&
    now.flowLPerMin === was.flowLPerMin &&
    now.sinceMs === was.sinceMs &&
    now.estimated === was.estimated &&
    now.meter?.key === was.meter?.key &&
    now.meter?.share === was.meter?.share;
  return isSame ? was : now;
}

/**
 * The inflow of a drum by the best of its witnesses: meter, level, inlet, calling float, a person's word. `runs`: a fill
 * runs; `missed`: the meter has missed water of it.
 */
export function bestWitness(
  drum: Drum,
  said: DrumWitnesses,
  { runs, missed }: { readonly runs: boolean; readonly missed: boolean },
): Inflow {
  const meter = said.meters.find(({ flowing }) => flowing !== null);
  const own = byDrum(drum, said, said.meters.length > 0 && !meter, runs);
  if (!meter || said.restsSinceTrip) return own;
  if (said.level && said.level.flowing !== null && meter.flowing === false)
    if (missed) return byLevel(said.level);
  return byMeter(meter, said, own) ?? own;
}
