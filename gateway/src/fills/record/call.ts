import type { DrumWitnesses, FloatSaid, LevelSaid, MeterSaid } from "../drum-witnesses.ts";
import { noteDisagreement } from "../guard/follow-guard.ts";
import type { Disagreement } from "../guard/guard.ts";
import { seldomMs } from "../guard/stop-rules.ts";
import { goesOnWithDraw, isLongerThanUsual, learnDoubtedCall } from "../learn-doubted.ts";
import { learnCallHabit } from "../learn-habit.ts";
import { learnCall, tripVolumeL, usualFlowLPerMin } from "../learned.ts";
import { learnOpenInCall } from "../openings.ts";
import type { Reason } from "../reason.ts";
import type { Call, DrumRecord } from "./drum-record.ts";
import { factsOf } from "./facts.ts";
import { markShort, noteCalled } from "./missed-litres.ts";
import { fillOf, newFill } from "./open-fill.ts";
import type { Following } from "./running.ts";
import { ranMs } from "./standstill.ts";

/** A shorter call tells nothing of its witnesses. */
const leastCallMs = 30_000;
/** What a meter must have counted where nothing is known of the float's volumes, L. */
const leastL = 1;
/** A witness that counts less than this share of what must have come in, call after call, reads too little. */
const leastShare = 0.8;
/** A level's median of five readings, and the two windows in which a rise is seen. */
const latePeriods = 5;
/** A witness that said nothing for more of its periods before the trip was not there. */
const heardPeriods = 3;
const aheadMs = 60_000;
const sharesKept = 12;
const sharesAsked = 3;
const shortShare = 0.7;

/**
 * What a meter had counted when the float was last seen wet: the edge is known a reading or two later, and of a small
 * call the better part has run by then. No less than when it last stood.
 */
function countedSinceWet(
  { flowing, flowLPerMin, totalL, stillL, lastMs }: MeterSaid,
  { sinceMs, periodMs }: FloatSaid,
): number {
  if (!flowing || lastMs === null) return totalL;
  const ranMs = Math.max(0, lastMs - (sinceMs - periodMs));
  return Math.max(stillL, totalL - ((flowLPerMin ?? 0) * ranMs) / 60_000);
}

/**
 * What the meter had counted when the float turned dry. One whose node was heard before the float's is ahead of it: what it
 * counted since is the call's, as far as a fill began with it; null: not to be told apart.
 */
function countedBefore(record: DrumRecord, { meters, stop }: DrumWitnesses): number | null {
  const [meter] = meters;
  if (!meter || !stop) return null;
  const isAhead = meter.lastMs !== null && meter.lastMs > stop.sinceMs + heardPeriods * meter.periodMs;
  if (!isAhead) return countedSinceWet(meter, stop);
  // Far ahead, its node told of other calls already.
  const ownMs = record.open?.startedAtMs ?? meter.lastMs ?? 0;
  if (ownMs > stop.sinceMs + Math.max(aheadMs, heardPeriods * meter.periodMs)) return null;
  if (record.open) return record.open.meterStart?.key === meter.key ? record.open.meterStart.totalL : null;
  return record.lastEndMs > stop.sinceMs ? null : meter.totalL;
}

/** The float turned dry. */
export function beginCall({ record, said, isTried }: Following): void {
  const { stop } = said;
  if (!stop) return;
  record.call = {
    sinceMs: stop.sinceMs,
    isWhole: record.stopWet === true && stop.edgeInSilence?.toMs !== stop.sinceMs && !isTried,
    meterL: countedBefore(record, said),
    levelL: said.level?.inflowL ?? null,
    handL: said.level?.handL ?? 0,
    hadFill: record.open !== null,
  };
}

/** Litres that fit between release and trip, which a whole call must have brought at least; null: not known. */
export function spanOf({ stop }: DrumWitnesses): number | null {
  const [top, low] = [stop?.tripsAtL ?? null, stop?.releasesAtL ?? null];
  return top === null || low === null || low >= top ? null : top - low;
}

/** In so short a time what fits between release and trip can't have come in: the float chattered, or was moved by hand. */
function isTooShort(said: DrumWitnesses, ms: number): boolean {
  const [span, flow] = [spanOf(said), said.greatestFlowLPerMin];
  return span !== null && flow !== null && ms < (shortShare * span * 60_000) / flow;
}

/** It was heard to the end of the call: what it says late it has not missed. */
function isHeardTo(
  { lastMs, periodMs }: { readonly lastMs: number | null; readonly periodMs: number },
  tripMs: number,
) {
  return lastMs !== null && lastMs >= tripMs - heardPeriods * periodMs;
}

/** Less than half of what must have come in was counted. */
function meterMissed(call: Call, said: DrumWitnesses): boolean {
  const meter = said.meters[0];
  if (!meter || call.meterL === null || !isHeardTo(meter, said.stop?.sinceMs ?? said.atMs)) return false;
  const span = call.isWhole ? spanOf(said) : null;
  return meter.totalL - call.meterL < (span === null ? leastL : span / 2);
}

function isAtTrip({ learned }: DrumRecord, { litres, noticeableL }: LevelSaid): boolean {
  const tripL = tripVolumeL(learned, null);
  return litres !== null && tripL !== null && Math.abs(litres - tripL) <= noticeableL;
}

function levelMissed(call: Call, said: DrumWitnesses, record: DrumRecord, ms: number): boolean {
  const { level } = said;
  if (level?.isFrozen) return true;
  if (!level || call.levelL === null || level.inflowL === null) return false;
  if (!isHeardTo(level, said.stop?.sinceMs ?? said.atMs)) return false;
  const span = call.isWhole ? spanOf(said) : null;
  // While a clock keeps the valve shut nothing is due.
  const { opened } = record.guard;
  const openMs = opened?.callMs === call.sinceMs ? opened.openMs : ms;
  const dueL = span ?? ((usualFlowLPerMin(record.learned) ?? 0) * openMs) / 60_000;
  // One that is seldom read shows the last minutes' water later.
  const lateMs = level.periodMs > seldomMs ? latePeriods * level.periodMs : 0;
  const lateL = ((usualFlowLPerMin(record.learned) ?? said.greatestFlowLPerMin ?? 0) * lateMs) / 60_000;
  const roseL = level.inflowL - call.levelL + level.handL - (call.handL ?? level.handL);
  // How long it called tells little where the supply was shut for a part: a level that rose to its trip has seen it all.
  if (span === null && roseL > 2 * level.noticeableL && isAtTrip(record, level)) return false;
  return dueL > 4 * level.noticeableL && roseL < dueL / 2 - lateL;
}

/** A meter whose last three whole calls counted too little, one with another. */
function readsTooLittle(call: Call, said: DrumWitnesses, record: DrumRecord): boolean {
  const span = spanOf(said);
  const meter = said.meters[0];
  if (!call.isWhole || span === null || !meter || call.meterL === null || meter.isShared) return false;
  if (!isHeardTo(meter, said.stop?.sinceMs ?? said.atMs)) return false;
  record.callShares = [...record.callShares, (meter.totalL - call.meterL) / span].slice(-sharesKept);
  const last = record.callShares.slice(-sharesAsked);
  return last.length === sharesAsked && last.every((share) => share < leastShare);
}

function tellUnknown(of: Following, call: Call, reason: Reason): void {
  const { record, said, place } = of;
  const tripMs = said.stop?.sinceMs ?? said.atMs;
  const open = newFill({
    drum: place.drum.id,
    startedAtMs: Math.max(call.sinceMs, record.lastEndMs),
    basis: "calling-float",
    estimated: true,
    meter: null,
    levelStartL: null,
    drawnStartL: said.level?.drawnL ?? 0,
    meterStart: null,
    contentsL: null,
    meterDoubted: true,
  });
  open.trippedAtMs = tripMs;
  open.flowUnknown = true;
  open.reasons.push(reason);
  record.lastEndMs = tripMs;
  of.tell(
    fillOf({
      drum: place.drum.id,
      open,
      ending: { end: "float-tripped", endedAtMs: tripMs, tripConfirmed: false, notStopping: null },
      notStopping: null,
      drawnL: open.drawnStartL,
    }),
  );
}

/** Its meter has counted what fits between release and trip, however late the tap was shut: it agrees with the float again. */
function agreeByHand({ record, said }: Following, { meterL }: Call): void {
  const [span, meter] = [spanOf(said), said.meters[0]];
  if (record.guard.disagrees?.how !== "call-without-meter" || said.level || span === null) return;
  if (meter && meterL !== null && meter.totalL - meterL >= leastShare * span) record.guard.disagrees = null;
}

/** Nobody said that they fill, and it is the first such trip in a row: somebody may have poured a bucket in. */
function isMaybeBucket({ record, said: { person, stop } }: Following): true | undefined {
  const isSaid = person?.flowing === true || (person?.flowing === false && person.sinceMs === stop?.sinceMs);
  return isSaid || record.guard.disagrees !== null ? undefined : true;
}

/**
 * Filled by hand from its release to its trip, and the level has not moved: it stands still; or the meter has counted next
 * to nothing in all the time that the line needs for it: it is stuck. What is poured in faster runs through no meter.
 */
function endCallByHand(of: Following, call: Call): void {
  const { record, said } = of;
  const { stop } = said;
  if (!call.isWhole || !stop || stop.chatters || stop.edgeInSilence?.toMs === stop.sinceMs) return;
  if (spanOf(said) === null) return;
  const ms = stop.sinceMs - call.sinceMs;
  if (levelMissed(call, said, record, ms)) noteDisagreement(record.guard, factsOf(of), "call-without-level");
  else if (meterMissed(call, said) && !isTooShort(said, ms))
    noteDisagreement(record.guard, factsOf(of), "call-without-meter", isMaybeBucket(of));
  else agreeByHand(of, call);
}

/** A level that has seen a whole call rise agrees with its float again; beside a meter their litres are compared. */
function agreeByCall({ record, said: { level, meters } }: Following): void {
  if (record.guard.disagrees?.how !== "call-without-level" || meters.length > 0) return;
  if (record.open?.basis === "level" && level?.flowing != null) record.guard.disagrees = null;
}

/** The float tripped: water came, so a witness that saw next to none of it is not believed. */
export function endCall(of: Following): void {
  const { record, said, place } = of;
  const { call } = record;
  record.call = null;
  const { stop } = said;
  if (!call || !stop || of.isTried) return;
  if (place.drum.control !== "automatic") {
    endCallByHand(of, call);
    return;
  }
  const ms = stop.sinceMs - call.sinceMs;
  const isInSilence = stop.edgeInSilence?.toMs === stop.sinceMs;
  // One that chatters at its trip has no call of known volume.
  if (isInSilence || ms < leastCallMs || stop.chatters || isTooShort(said, ms)) return;
  if (call.isWhole && record.guard.stopFailed === null) {
    const hasStood = record.open?.hasStood === true;
    const { opened } = record.guard;
    const ran = record.open && hasStood ? ranMs(record.open, call.sinceMs, stop.sinceMs) : null;
    const goesOn = goesOnWithDraw(record.learned, call.sinceMs) && isLongerThanUsual(record.learned, ms);
    const isDoubted = call.isDoubted || goesOn;
    const atMs = stop.sinceMs;
    if (!hasStood && isDoubted)
      learnDoubtedCall(record.learned, { durationMs: ms, atMs, isConfirmed: record.open !== null });
    else if (!hasStood) learnCall(record.learned, ms, atMs);
    else if (ran !== null)
      learnCallHabit(record.learned, {
        litres: null,
        ranMs: ran,
        atMs,
        ...(isDoubted ? { isDoubted: true as const } : {}),
      });
    if (opened?.callMs === call.sinceMs)
      learnOpenInCall(record.learned, {
        openMs: opened.openMs,
        atMs: stop.sinceMs,
        hasStood: hasStood || call.isDoubted === true,
      });
  }
  noteCalled(of, call, spanOf(said));
  const meter = meterMissed(call, said) || readsTooLittle(call, said, record);
  if (record.open) markShort(record, said, record.open);
  const level = levelMissed(call, said, record, ms);
  const how: Disagreement["how"] | null = level ? "call-without-level" : meter ? "call-without-meter" : null;
  const { open } = record;
  if (how) noteDisagreement(record.guard, factsOf(of), how);
  else if (call.isWhole) agreeByCall(of);
  if (open && meterMissed(call, said) && open.basis === "flow-meter") open.flowUnknown = true;
  if (open && level && open.basis === "level") open.flowUnknown = true;
  const isSeen = open !== null || call.hadFill || (said.level && !level && said.level.flowing !== null);
  if (how && !isSeen)
    tellUnknown(of, call, { code: level ? "call-without-level" : "call-without-meter", values: {} });
}
