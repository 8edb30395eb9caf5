import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { noteDisagreement } from "../guard/follow-guard.ts";
import { reasonNames } from "../guard/guard.ts";
import type { GuardFacts } from "../guard/stop-rules.ts";
import { learn } from "../learned.ts";
import { rescale } from "./account.ts";
import { bestWitness, type Inflow, markZero, meterMisses, unlessSame } from "./best-witness.ts";
import { bookInflow, type Seeing, settleWaiting } from "./book-inflow.ts";
import { endingOf, rescaleToLevel } from "./close-fill.ts";
import type { DrumPlace, DrumRecord } from "./drum-record.ts";
import { fillOf, litresOf, newFill, type OpenFill } from "./open-fill.ts";

/** Inflow that comes back within this time goes on with the same fill. */
const pauseMs = 2 * 60_000;
/** A silence longer than this ends a fill where it was last heard. */
const silenceMs = 15 * 60_000;
/** After a silence in which inflow ended, the float is waited for so long. */
const backMs = 30_000;
const toldEveryMs = 10_000;
/** Meter and level may differ by so much before they contradict each other. */
const apartShare = 0.15;
const apartL = 5;

/** What a drum's fills are followed with. */
export interface Following {
  readonly place: DrumPlace;
  readonly record: DrumRecord;
  readonly said: DrumWitnesses;
  readonly seeing: Seeing;
  readonly tell: (fill: Fill) => void;
}

/** The running fill as it is told. */
export function runningFill({
  place,
  record,
  said,
}: Pick<Following, "place" | "record" | "said">): Fill | null {
  const failed = record.guard.stopFailed;
  const notStopping = failed?.attention === "wake" ? reasonNames[failed.reason] : null;
  return record.open ? fillOf(place.drum.id, record.open, null, notStopping, said.level?.drawnL ?? 0) : null;
}

function tellRunning(of: Following): void {
  const fill = runningFill(of);
  if (!fill || !of.record.open) return;
  of.record.open.toldMs = of.said.atMs;
  of.tell(fill);
}

function begin(of: Following, now: Inflow): void {
  const { place, record, said } = of;
  const { level, stop } = said;
  const startedAtMs = Math.min(said.atMs, Math.max(now.sinceMs, record.lastEndMs));
  const counting = now.meter && said.meters.find(({ key }) => key === now.meter?.key);
  const nearest = said.meters.find(({ flowing }) => flowing !== null);
  const levelStartL = level === null ? null : now.basis === "level" ? level.stillL : level.inflowL;
  const open = newFill({
    drum: place.drum.id,
    startedAtMs,
    basis: now.basis,
    estimated: now.estimated,
    meter: counting ? { key: counting.key, totalL: counting.totalL, bridgedL: counting.bridgedL } : null,
    levelStartL,
    drawnStartL: level?.drawnL ?? 0,
    meterStart: nearest ? { key: nearest.key, totalL: nearest.totalL } : null,
    contentsL:
      level?.litres == null || level.inflowL === null || levelStartL === null
        ? null
        : level.litres - (level.inflowL - levelStartL),
    meterDoubted: now.basis === "level" && nearest?.flowing === false,
  });
  record.open = open;
  if (record.call) record.call.hadFill = true;
  if (stop?.heard && stop.wet && stop.sinceMs >= startedAtMs && stop.sinceMs > record.lastEndMs)
    trip(of, open);
  tellRunning(of);
}

function trip({ said }: Following, open: OpenFill): void {
  const { stop, level } = said;
  if (!stop) return;
  open.trippedAtMs = stop.sinceMs;
  const sinceMs = Math.max(0, said.atMs - stop.sinceMs);
  const sinceL = level?.flowing ? ((level.flowLPerMin ?? 0) * sinceMs) / 60_000 : 0;
  open.tripAtL = level?.litres == null ? null : level.litres - sinceL;
  open.litresAtTrip = litresOf(open);
  open.tripInSilence = stop.edgeInSilence !== null && stop.edgeInSilence.toMs === stop.sinceMs;
}

/** A call that ended with a trip while its meter saw next to nothing: a fill of which nobody knows how much it was. */
function endCall(of: Following): void {
  const { record, said, place } = of;
  const { call } = record;
  record.call = null;
  const { stop } = said;
  if (!call || call.hadFill || !stop || said.meters.length === 0) return;
  if (said.level && said.level.flowing !== null) return;
  const spanL = stop.tripsAtL !== null && stop.releasesAtL !== null ? stop.tripsAtL - stop.releasesAtL : null;
  const meter = said.meters[0];
  const countedL = meter && call.meterL !== null ? meter.totalL - call.meterL : 0;
  if (countedL >= (spanL === null ? 1 : spanL / 2) || stop.sinceMs - call.sinceMs < backMs) return;
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
  open.trippedAtMs = stop.sinceMs;
  open.flowUnknown = true;
  open.reasons.push("the float called and tripped, and the meter saw next to no water");
  record.lastEndMs = stop.sinceMs;
  noteDisagreement(record.guard, factsOf(of), "call-without-meter");
  of.tell(
    fillOf(
      place.drum.id,
      open,
      { end: "float-tripped", endedAtMs: stop.sinceMs, tripConfirmed: false, notStopping: null },
      null,
      open.drawnStartL,
    ),
  );
}

function takeStop(of: Following): void {
  const { record, said } = of;
  const { stop } = said;
  if (!stop?.heard || stop.wet === null || stop.wet === record.stopWet) return;
  const { open } = record;
  if (stop.wet) {
    if (record.stopWet === false && open && open.trippedAtMs === null) trip(of, open);
    if (record.stopWet === false && !open) endCall(of);
    record.call = null;
  } else {
    if (open && open.trippedAtMs !== null) open.trippedAtMs = null;
    record.floatBeganMs = record.stopWet === true ? stop.sinceMs : null;
    record.call = {
      sinceMs: stop.sinceMs,
      meterL: said.meters[0]?.totalL ?? null,
      levelL: said.level?.inflowL ?? null,
      hadFill: open !== null,
    };
  }
  record.stopWet = stop.wet;
}

/** What the guard goes by. */
export function factsOf({ place, record, said }: Pick<Following, "place" | "record" | "said">): GuardFacts {
  const { open } = record;
  const meter = open?.meterStart && said.meters.find(({ key }) => key === open.meterStart?.key);
  const share = record.inflow.meter?.share ?? 1;
  return {
    drum: place.drum,
    said,
    learned: record.learned,
    graceMs: place.graceMs,
    fill: open
      ? {
          startedAtMs: open.startedAtMs,
          meterL: meter && open.meterStart ? (meter.totalL - open.meterStart.totalL) * share : null,
          levelL:
            said.level?.inflowL == null || open.levelStartL === null
              ? null
              : said.level.inflowL - open.levelStartL,
          contentsL: open.contentsL,
          drawnL: Math.max(0, (said.level?.drawnL ?? 0) - open.drawnStartL),
        }
      : null,
  };
}

/** Whether meter and level counted the same water; null where one of them can't tell. */
function agree(of: Following): boolean | null {
  const { fill } = factsOf(of);
  if (fill?.meterL == null || fill.levelL === null || of.said.level?.flowing === null) return null;
  const apart = Math.abs(fill.meterL - fill.levelL);
  return !(apart > apartL && apart > apartShare * Math.max(fill.meterL, fill.levelL));
}

/** Litres of a fill that only its float tells of: what fits between release and trip, where both are known. */
function litresByTrip({ said, record }: Following, open: OpenFill): void {
  const { stop } = said;
  const isWhole = record.floatBeganMs !== null && record.floatBeganMs <= open.startedAtMs;
  if (open.trippedAtMs === null || !isWhole || stop?.tripsAtL == null || stop.releasesAtL === null) return;
  const litres = stop.tripsAtL - stop.releasesAtL;
  if (!(litres > 0) || !(open.minutes.came > 0)) return;
  Object.assign(open.litres, open.minutes);
  rescale(open.litres, litres);
  open.knowsLitres = true;
  open.estimated = true;
}

/** Ends the running fill: told, learned from, forgotten. */
export function closeFill(of: Following): void {
  const { place, record, said, seeing } = of;
  const { open } = record;
  if (!open) return;
  settleWaiting(open, seeing, said.atMs, true);
  rescaleToLevel(open, said);
  if (open.basis === "calling-float") litresByTrip(of, open);
  const failed = record.guard.stopFailed?.attention === "wake" ? record.guard.stopFailed : null;
  const agreed = agree(of);
  if (agreed === false && open.basis === "flow-meter") {
    // The level needs a while to stand: only what it shows at the end speaks against the meter.
    if (said.level?.flowing === false && said.level.sinceMs >= open.startedAtMs) {
      open.flowUnknown = true;
      noteDisagreement(record.guard, factsOf(of), "litres-apart");
    }
  }
  if (open.meterDoubted) open.flowUnknown = true;
  const ending = endingOf(open, said, failed);
  const fill = fillOf(place.drum.id, open, ending, null, said.level?.drawnL ?? 0);
  record.open = null;
  record.lastEndMs = ending.endedAtMs;
  if (!open.flowUnknown && (agreed === true || ending.tripConfirmed === true)) record.guard.disagrees = null;
  if (!failed && !open.flowUnknown && !open.tripInSilence)
    learn(
      record.learned,
      ending.end === "float-tripped" ? fill.tripAtL : null,
      fill.estimated && open.basis !== "calling-float" ? null : fill.litres,
      ending.endedAtMs - fill.startedAtMs,
    );
  of.tell(fill);
}

/** When the fill is over if nothing more is heard, epoch ms; null when it goes on. */
export function overAtMs(open: OpenFill): number | null {
  if (open.stoppedAtMs !== null)
    return open.backMs === null
      ? open.stoppedAtMs + pauseMs
      : Math.max(open.stoppedAtMs + pauseMs, open.backMs + backMs);
  return open.silentSinceMs === null ? null : open.silentSinceMs + silenceMs;
}

function lastHeardMs({ said }: Following, open: OpenFill): number {
  if (open.basis === "flow-meter")
    return said.meters.find(({ key }) => key === open.meter?.key)?.lastMs ?? said.atMs;
  if (open.basis === "level") return said.level?.lastMs ?? said.atMs;
  return said.heardMs ?? said.atMs;
}

function goOn(of: Following, now: Inflow): void {
  const { said, record } = of;
  const open = record.open as OpenFill;
  const wasPaused = open.stoppedAtMs !== null;
  if (open.silentSinceMs !== null) open.estimated = true;
  open.stoppedAtMs = null;
  open.silentSinceMs = null;
  open.backMs = null;
  const better = now.basis === "flow-meter" && open.basis !== "flow-meter" && open.basis !== "level";
  if (better) {
    open.basis = now.basis;
    open.knowsLitres = true;
  } else if (now.basis === "level" && open.basis === "flow-meter" && said.level) {
    // The meter misses water: from here on the level counts.
    if (said.meters.some(({ flowing }) => flowing === false)) open.meterDoubted = true;
  }
  if (wasPaused) tellRunning(of);
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
    open.stoppedAtMs = Math.max(open.startedAtMs, Math.min(said.atMs, since));
  }
  open.silentSinceMs = null;
  tellRunning(of);
}

/** Goes on with a drum's fill by what its witnesses say now. */
export function followFill(of: Following): void {
  const { place, record, said, seeing } = of;
  const before = record.inflow;
  record.meterZero = markZero(said, record.meterZero);
  const misses = meterMisses(said, record.meterZero);
  if (misses) noteDisagreement(record.guard, factsOf(of), "meter-misses");
  const now = unlessSame(
    bestWitness(place.drum, said, misses || (record.open?.meterDoubted ?? false)),
    before,
  );
  if (record.open) {
    const overMs = overAtMs(record.open);
    if (overMs !== null && said.atMs >= overMs && now.flowing !== null) closeFill(of);
  }
  record.inflow = now;
  if (record.open) bookInflow(record.open, said, before, now, seeing.isFirst);
  takeStop(of);
  if (now.flowing === true) {
    if (record.open) goOn(of, now);
    else begin(of, now);
  } else if (record.open && now.flowing === false) pause(of);
  else if (record.open && record.open.stoppedAtMs === null)
    record.open.silentSinceMs ??= lastHeardMs(of, record.open);
  const { open } = record;
  if (!open) return;
  settleWaiting(open, seeing, said.atMs, false);
  if (open.stoppedAtMs !== null && open.trippedAtMs !== null) {
    // A float that is wet ends the fill at once: nothing will come back by itself.
    closeFill(of);
  } else if (open.stoppedAtMs !== null && said.atMs >= (overAtMs(open) ?? Number.POSITIVE_INFINITY))
    closeFill(of);
  else if (now.flowing === true && said.atMs - open.toldMs >= toldEveryMs) tellRunning(of);
}
