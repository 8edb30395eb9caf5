import { noteDisagreement } from "../guard/follow-guard.ts";
import { bestWitness, type Inflow, markZero, meterMisses, unlessSame } from "./best-witness.ts";
import { beganL, bookInflow, countFromBegin, cutWaiting, settleWaiting } from "./book-inflow.ts";
import { beginCall, endCall } from "./call.ts";
import { endingOf, rescaleToLevel } from "./close-fill.ts";
import { agreeByTrip, awaitLevel, settleFill } from "./compare.ts";
import { followContents, toReleaseL } from "./contents.ts";
import { factsOf } from "./facts.ts";
import {
  backMs,
  isAwaited,
  isOfBefore,
  isOfTold,
  isSameCall,
  lateToldMs,
  lingers,
  markStood,
  markUntold,
  overAtMs,
  pauseMs,
  standsCalled,
} from "./fill-over.ts";
import { learnFill } from "./learn-fill.ts";
import { litresAtLeast, litresByTrip } from "./litres-by-trip.ts";
import { markMissed, markShort } from "./missed-litres.ts";
import { takeSetRight, takeTrippedAgain } from "./moved.ts";
import { fillOf, litresOf, newFill, type OpenFill } from "./open-fill.ts";
import { followOpening } from "./opening.ts";
import { type Following, lastHeardMs, tellRunning } from "./running.ts";
import { markStandstill } from "./standstill.ts";
import { markHighest, tripVolume } from "./trip-volume.ts";
import { addUnheard } from "./unheard-rest.ts";

const toldEveryMs = 10_000;
/** A trip longer before a fill's begin is not its own, however late that begin was seen. */
const tripBeforeMs = 5 * 60_000;

/** Water that a meter tells of late has stopped: where its float tripped then, and has hung wet since, that trip is its own. */
function joinTrip(of: Following, open: OpenFill): void {
  const { stop, meters } = of.said;
  const toldMs = lateToldMs(meters.find(({ key }) => key === open.meter?.key));
  if (!stop?.heard || !stop.wet || open.trippedAtMs !== null || toldMs === Number.POSITIVE_INFINITY) return;
  if (stop.sinceMs >= open.startedAtMs && stop.sinceMs <= toldMs + stop.periodMs) trip(of, open);
}

function begin(of: Following, now: Inflow): void {
  const { place, record, said } = of;
  const { level, stop } = said;
  const startedAtMs = Math.min(said.atMs, Math.max(now.sinceMs, record.lastEndMs));
  const counting = now.meter && said.meters.find(({ key }) => key === now.meter?.key);
  const nearest = said.meters.find(({ flowing }) => flowing !== null);
  const levelStartL = level === null ? null : now.basis === "level" ? level.stillL : level.inflowL;
  const restL = toReleaseL(of);
  const open = newFill({
    drum: place.drum.id,
    startedAtMs,
    basis: now.basis,
    estimated: now.estimated,
    meter: counting
      ? {
          key: counting.key,
          totalL: beganL(counting, startedAtMs, said),
          bridgedL: counting.bridgedL,
        }
      : null,
    levelStartL,
    drawnStartL: level === null ? 0 : level.drawnL + level.fallingL + restL,
    meterStart: nearest ? { key: nearest.key, totalL: beganL(nearest, startedAtMs, said) } : null,
    contentsL:
      level?.litres == null || level.inflowL === null || levelStartL === null
        ? null
        : level.litres - Math.max(0, restL) - (level.inflowL - levelStartL),
    meterDoubted: now.basis === "level" && nearest?.flowing === false,
    floatBeganMs: record.floatBeganMs,
  });
  record.open = open;
  markShort(record, said, open);
  record.cut = null;
  if (record.call) record.call.hadFill = true;
  const isOfIt = stop?.heard && stop.wet && stop.sinceMs >= startedAtMs && stop.sinceMs > record.lastEndMs;
  // Its meter has not told of the time of that trip yet: it may be another fill's.
  if (isOfIt && stop.sinceMs <= lateToldMs(counting)) trip(of, open);
  tellRunning(of);
}

function trip(of: Following, open: OpenFill): void {
  const { stop } = of.said;
  if (!stop || (of.isTried && of.place.drum.control === "manual")) return;
  // The level saw nothing of it: it ran for as long as its float called.
  if (isAwaited(open)) open.stoppedAtMs = stop.sinceMs;
  open.trippedAtMs = stop.sinceMs;
  const { tripAtL, isUnder } = tripVolume(of, open);
  open.tripAtL = tripAtL;
  if (isUnder) open.levelFell = true;
  of.record.lastTripL = open.tripAtL ?? of.record.lastTripL;
  open.litresAtTrip = litresOf(open);
  open.tripInSilence = stop.edgeInSilence !== null && stop.edgeInSilence.toMs === stop.sinceMs;
}

/** A float that calls again after a fill was over calls for another one, though what waits in nodes keeps that open. */
function closeBefore(of: Following, callMs: number): void {
  const { open } = of.record;
  if (open?.trippedAtMs != null && callMs >= (overAtMs(open) ?? Number.POSITIVE_INFINITY)) closeFill(of);
}

function takeStop(of: Following): void {
  const { record, said } = of;
  const { stop } = said;
  if (!stop?.heard || stop.wet === null || stop.wet === record.stopWet) return;
  if (!stop.wet) closeBefore(of, stop.sinceMs);
  const { open } = record;
  if (stop.wet) {
    // A trip that is heard late may be that of a fill before.
    const isOfIt = open !== null && stop.sinceMs >= open.startedAtMs - tripBeforeMs;
    if (record.stopWet === false && isOfIt && open.trippedAtMs === null) trip(of, open);
    if (record.stopWet === false) endCall(of);
    record.call = null;
    delete record.stood;
  } else {
    if (open && open.trippedAtMs !== null) open.trippedAtMs = null;
    record.floatBeganMs = record.stopWet === true ? stop.sinceMs : null;
    record.beganUnheard = stop.edgeInSilence?.toMs === stop.sinceMs ? stop.edgeInSilence : null;
    if (open) open.floatBeganMs = record.floatBeganMs;
    beginCall(of);
  }
  record.stopWet = stop.wet;
}

/** Ends the running fill: told, learned from, forgotten. */
export function closeFill(of: Following): void {
  const { place, record, said, seeing } = of;
  const { open } = record;
  if (!open) return;
  of.judgeTold();
  if (open.stoppedAtMs !== null) cutWaiting(open, open.stoppedAtMs);
  settleWaiting(open, seeing, said.atMs, true);
  // Its end was not heard: what waits in its node may yet tell more of it.
  const isCut = (open.stoppedAtMs === null && open.silentSinceMs !== null) || open.backMs !== null;
  const asHeard = isCut ? structuredClone(open) : null;
  addUnheard(of, open, isCut);
  rescaleToLevel(open, said);
  const isEstimated = open.estimated && open.basis !== "calling-float";
  if (open.basis === "calling-float") litresByTrip(of, open);
  else if (open.basis === "level") litresAtLeast(of, open);
  const failed = record.guard.stopFailed?.attention === "wake" ? record.guard.stopFailed : null;
  if (open.meterDoubted) open.flowUnknown = true;
  markMissed(of, open);
  const ending = endingOf(open, said, failed);
  const fill = fillOf({
    drum: place.drum.id,
    open,
    ending,
    notStopping: null,
    drawnL: said.level?.drawnL ?? 0,
  });
  record.open = null;
  if (open.trippedAtMs !== null) delete record.isEmptied;
  // Told in two (a silence between them): how long the rest of it took teaches nothing.
  const isRest = open.startedAtMs - record.lastEndMs < pauseMs;
  if (standsCalled(of, open)) record.stood = { open: structuredClone(open), lastEndMs: record.lastEndMs };
  else delete record.stood;
  record.cut = asHeard && { open: asHeard, lastEndMs: record.lastEndMs };
  // The next one must have an id of its own.
  record.lastEndMs = Math.max(ending.endedAtMs, open.startedAtMs + 1);
  record.lastEndL = said.level?.inflowL ?? undefined;
  if (ending.tripConfirmed === true) agreeByTrip(record, said, open, fill.litres);
  if (!failed && !isRest && !isCut) learnFill(of, { open, fill, ending, isEstimated });
  takeTrippedAgain(record, open, { failed, drumL: place.drum.volumeL });
  takeSetRight(record.learned, open, place.drum.volumeL);
  awaitLevel(record, open, fill);
  of.owe(open, fill);
  of.tell(fill);
}

function goOn(of: Following, now: Inflow): void {
  const { said, record } = of;
  const open = record.open as OpenFill;
  const wasPaused = open.stoppedAtMs !== null;
  markStandstill(open, Math.min(now.sinceMs, said.atMs));
  if (open.silentSinceMs !== null) open.estimated = true;
  Object.assign(open, { stoppedAtMs: null, silentSinceMs: null, backMs: null });
  const isCounted = open.basis === "flow-meter" || open.basis === "level";
  const counts = now.basis === "flow-meter" || (now.basis === "level" && open.levelStartL !== null);
  if (counts && !isCounted) {
    open.basis = now.basis;
    open.knowsLitres = true;
    // What was booked by time so far is among what is counted now.
    if (now.basis === "level") countFromBegin(open, said.level);
    else open.waiting = [];
  } else if (now.basis === "level" && open.basis === "flow-meter" && said.level) {
    // The meter misses water: from here on the level counts.
    if (said.meters.some(({ flowing }) => flowing === false)) open.meterDoubted = true;
  }
  if (wasPaused) tellRunning(of);
}

/** Water comes again in the same call, or is seen at last: it is the same fill. */
function takeUpStood(of: Following, now: Inflow): boolean {
  const { record, said } = of;
  const { stood } = record;
  delete record.stood;
  if (!stood || !isSameCall(of, stood.open, now)) return false;
  const { open, lastEndMs } = stood;
  Object.assign(record, { open, lastEndMs, cut: null });
  open.hasStood = true;
  open.bookedMs = Math.max(open.bookedMs, Math.min(now.sinceMs, said.atMs));
  goOn(of, now);
  return true;
}

function pause(of: Following): void {
  const open = of.record.open as OpenFill;
  if (open.stoppedAtMs !== null) return;
  const { said } = of;
  if (open.silentSinceMs !== null) {
    open.estimated = true;
    open.backMs = said.atMs;
    open.stoppedAtMs = open.silentSinceMs;
  } else {
    const since = of.record.inflow.sinceMs;
    // Of a shared meter, too: its level has stood all along, and only now it is known that the water was another's.
    const isUnseen = since <= open.startedAtMs && ["calling-float", "flow-meter"].includes(open.basis);
    const latestMs = isUnseen && open.basis === "flow-meter" ? said.atMs : Math.min(said.atMs, since);
    open.stoppedAtMs = (isUnseen ? open.trippedAtMs : null) ?? Math.max(open.startedAtMs, latestMs);
  }
  open.silentSinceMs = null;
  joinTrip(of, open);
  tellRunning(of);
}

/** What waited in its nodes goes on with a fill that silence had ended: it is one, and nothing of it was unseen. */
function takeUpCut(of: Following): void {
  const { record, said } = of;
  const { cut } = record;
  if (!cut) return;
  const sinceMs = lastHeardMs(of, cut.open) - record.lastEndMs;
  if (sinceMs <= 0 || sinceMs > pauseMs) return;
  const open = Object.assign(cut.open, { silentSinceMs: null, stoppedAtMs: null, backMs: null });
  Object.assign(record, { open, lastEndMs: cut.lastEndMs, cut: null });
  const { stop } = said;
  if (stop?.heard && stop.wet && stop.sinceMs > open.startedAtMs && open.trippedAtMs === null) trip(of, open);
}

/** What waited in a meter's node tells of a fill that another witness has told of: the same water is no other fill. */
function isToldAlready({ said, record }: Following, now: Inflow): boolean {
  const meter = said.meters.find(({ key }) => key === now.meter?.key);
  if (meter?.isLate !== true || meter.lastMs === null) return false;
  return meter.lastMs <= record.lastEndMs + meter.periodMs + backMs;
}

/** Goes on with a drum's fill by what its witnesses say now. */
export function followFill(of: Following): void {
  const { place, record, said, seeing } = of;
  // An entry that is run again after its fill was written down: nothing comes in twice.
  if (said.atMs <= record.lastEndMs) return;
  const before = record.inflow;
  if (!record.open && of.isLate) takeUpCut(of);
  record.meterZero = markZero(said, record.meterZero);
  const misses = meterMisses(said, record.meterZero);
  if (misses) noteDisagreement(record.guard, factsOf(of), "meter-misses");
  const now = unlessSame(
    bestWitness(place.drum, said, {
      runs: record.open !== null,
      missed: misses || (record.open?.meterDoubted ?? false),
    }),
    before,
  );
  if (record.open) {
    markUntold(record.open, now);
    const overMs = overAtMs(record.open);
    const isOver =
      overMs !== null && said.atMs >= overMs && now.flowing !== null && !isOfTold(said, record.open, now);
    if (isOver && (now.flowing || !of.isAwaiting)) closeFill(of);
  }
  record.inflow = now;
  followContents(of);
  if (record.open) markStood(record.open, said.atMs);
  if (record.open) markHighest(record.open, said);
  if (record.open) bookInflow(record.open, said, { before, inflow: now, isFirst: seeing.isFirst });
  takeStop(of);
  followOpening(record, said);
  settleFill(of);
  if (now.flowing === true) {
    if (record.open) goOn(of, now);
    else if (!isToldAlready(of, now) && !lingers(of, now) && !takeUpStood(of, now)) begin(of, now);
  } else if (record.open && now.flowing === false && !isOfBefore(said, record.open, now)) pause(of);
  else if (record.open && record.open.stoppedAtMs === null)
    record.open.silentSinceMs ??= lastHeardMs(of, record.open);
  const { open } = record;
  if (!open) return;
  settleWaiting(open, seeing, of.isAwaiting ? open.startedAtMs : said.atMs, false);
  if (of.isAwaiting) return;
  // A float that is wet ends the fill at once: nothing will come back by itself.
  if (open.stoppedAtMs !== null && open.trippedAtMs !== null) closeFill(of);
  else if (open.stoppedAtMs !== null && said.atMs >= (overAtMs(open) ?? Number.POSITIVE_INFINITY))
    closeFill(of);
  else if (now.flowing === true && said.atMs - open.toldMs >= toldEveryMs) tellRunning(of);
}
