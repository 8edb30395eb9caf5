import type { DrumWitnesses, MeterSaid } from "../drum-witnesses.ts";
import { usualFlowLPerMin } from "../learned.ts";
import type { Inflow } from "./best-witness.ts";
import type { OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";

/** Inflow that comes back within this time goes on with the same fill. */
export const pauseMs = 2 * 60_000;
/** … and within this where its float has called all the while: the supply was shut. */
const calledMs = 2 * 3_600_000;
/** A silence longer than this ends a fill where it was last heard. */
export const silenceMs = 15 * 60_000;
/** After a silence in which inflow ended, the float is waited for so long. */
export const backMs = 30_000;
/** A level says that it rises for so long after the last water. */
const lingersMs = 5 * 60_000;
const lingersPeriods = 10;
/** … and while slow water shows no end: over the windows in which its rise is seen. */
const lingersTimes = 4;
const lingersLongestMs = 30 * 60_000;

/** Begun by its float or a person alone, in a draw: a level that is back from it can't tell yet whether water comes. */
export const isAwaited = ({ basis, stoppedAtMs, startedAtMs, trippedAtMs }: OpenFill): boolean =>
  (basis === "calling-float" || basis === "person") && stoppedAtMs === startedAtMs && trippedAtMs === null;

/** When the fill is over if nothing more is heard, by the time of its readings, epoch ms; null when it goes on. */
export function overAtMs(open: OpenFill): number | null {
  if (open.stoppedAtMs !== null)
    return open.backMs === null
      ? open.stoppedAtMs + (isAwaited(open) ? silenceMs : pauseMs)
      : Math.max(open.stoppedAtMs + pauseMs, open.backMs + backMs);
  return open.silentSinceMs === null ? null : open.silentSinceMs + silenceMs;
}

/** When it is told to be over by the gateway's time, epoch ms: what waits in other nodes is in by then. Null when it goes on. */
export function toldAtMs(open: OpenFill): number | null {
  const overMs = overAtMs(open);
  return overMs === null ? null : Math.max(overMs, open.awaitsMs ?? 0);
}

/**
 * A level that is seldom read, or that was away, shows a fill's last minutes after its float has ended it: what began
 * to rise before is in that fill.
 */
export function lingers({ record, said }: Following, now: Inflow): boolean {
  if (now.basis !== "level" || !said.stop?.wet || now.sinceMs >= record.lastEndMs) return false;
  const { periodMs = 0, noticeableL = 0, inflowL = null } = said.level ?? {};
  // However long it goes on to say that it rises: nothing has come in since.
  const cameL = inflowL === null || record.lastEndL === undefined ? null : inflowL - record.lastEndL;
  if (cameL !== null && Math.abs(cameL) < noticeableL) return true;
  const flow = usualFlowLPerMin(record.learned) ?? said.greatestFlowLPerMin;
  const slowMs = flow ? Math.min(lingersLongestMs, (lingersTimes * noticeableL * 60_000) / flow) : 0;
  return said.atMs - record.lastEndMs < Math.max(lingersMs, lingersPeriods * periodMs, slowMs);
}

/**
 * Its float calls on, or a person fills it of whose water nothing has told yet: what has stopped is over for now, and goes on
 * under its id when water comes.
 */
export function standsCalled({ place, said }: Following, open: OpenFill): boolean {
  const { stop } = said;
  const calls =
    place.drum.control === "automatic"
      ? stop?.heard === true && stop.wet === false
      : isAwaited(open) && open.basis === "person" && said.person?.flowing === true;
  return calls && open.stoppedAtMs !== null && open.trippedAtMs === null && !open.byPerson;
}

/** It still is the call, or the word of the person, in which that fill stood. */
export function isSameCall(
  { place, record, said }: Following,
  { startedAtMs }: OpenFill,
  now: Inflow,
): boolean {
  const stoodMs = now.sinceMs - record.lastEndMs;
  if (place.drum.control === "automatic") return stoodMs <= calledMs && said.stop?.wet === false;
  return stoodMs <= silenceMs && said.person?.flowing === true && said.person.sinceMs <= startedAtMs;
}

/** Up to when a meter has told whose packs come late, ms; one that tells of now has told of everything. */
export const lateToldMs = (meter: MeterSaid | null | undefined): number =>
  meter?.isLate === true && meter.lastMs !== null
    ? meter.lastMs + 2 * meter.periodMs
    : Number.POSITIVE_INFINITY;

/** A meter that tells late of a time before a fill began says nothing of it, while a level sees it rise. */
export function isOfBefore(
  { level, meters }: DrumWitnesses,
  { startedAtMs }: OpenFill,
  { meter }: Inflow,
): boolean {
  const told = meters.find(({ key }) => key === meter?.key);
  return level?.flowing === true && told?.isLate === true && (told.lastMs ?? startedAtMs) < startedAtMs;
}

/** Water that a meter tells of late came before its float said that it was over: it is that fill's. */
export function isOfTold({ meters }: DrumWitnesses, { stoppedAtMs }: OpenFill, now: Inflow): boolean {
  const told = meters.find(({ key }) => key === now.meter?.key);
  return now.flowing === true && told?.isLate === true && (told.lastMs ?? 0) < (stoppedAtMs ?? 0);
}

/** Marks a fill that has stood for longer than a pause. */
export function markStood(open: OpenFill, atMs: number): void {
  if (open.stoppedAtMs !== null && atMs - open.stoppedAtMs > pauseMs) open.hasStood = true;
}

/**
 * Its meter runs anew after a silence of which nobody told, since what had waited in its node came before it: it ends as if
 * that had been told.
 */
export function markUntold(open: OpenFill, { flowing, sinceMs, meter }: Inflow): void {
  const isCounted = open.basis === "flow-meter" && flowing === true && meter?.key === open.meter?.key;
  const isToRun = open.stoppedAtMs === null && open.silentSinceMs === null;
  if (!isCounted || !isToRun || sinceMs - open.bookedMs <= silenceMs) return;
  open.silentSinceMs = open.bookedMs;
  open.backMs = open.bookedMs + silenceMs;
}
