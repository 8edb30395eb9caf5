import type { Drum } from "../../line/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { type BatchNow, type BatchState, isBeingMixed, isSalted } from "./batch.ts";
import { heelShare, intrudesMs, intrudesShare, saltSeenMs, steadyMs, useShare } from "./batch-limits.ts";
import { type Band, followBand, isInBand, isSteady, takeSalinity } from "./readiness.ts";

/** What a batch goes by. */
export interface BatchFacts {
  readonly drum: Drum;
  readonly band: Band;
  readonly said: DrumWitnesses;
  /** The running fill, or the last one. */
  readonly fill: Fill | null;
  readonly nowMs: number;
}

/** A salinity that changed by so much since salt went in: it dissolves. */
const dissolvesBy = 0.5;
/** PSS-78 begins at salinity 2: less is fresh water. */
const leastSalinity = 2;

/** Goes on to a state; one that it has already is left as it is. */
export function goTo(now: BatchNow, state: BatchState, atMs: number): void {
  if (now.state === state) return;
  now.state = state;
  now.sinceMs = atMs;
}

/** Salt or water went in: what was read before tells nothing of what is in it now. */
export function startAnew(now: BatchNow, atMs: number): void {
  now.addedMs = atMs;
  now.minutes = [];
  now.first = null;
  now.offSinceMs = null;
  now.isOff = false;
}

/** The litres of a level by pressure move while salt dissolves: of salt that somebody entered the level knows by itself. */
function isSaltDissolving({ salt, addedMs }: BatchNow, { drum, fill, nowMs }: BatchFacts): boolean {
  const byPressure = drum.level?.as === "pressure" && fill?.basis === "level";
  return byPressure && salt.at(-1)?.by === null && nowMs - addedMs < 2 * steadyMs;
}

/** A fill that a level by pressure alone saw before salt was entered, and that it does not see go on, was the salt's rise. */
function isSaltEnteredLate({ salt }: BatchNow, { drum, fill, said }: BatchFacts): boolean {
  if (drum.level?.as !== "pressure" || fill?.basis !== "level" || said.level?.flowing === true) return false;
  return fill.startedAtMs < (salt.at(-1)?.atMs ?? 0);
}

/** Fresh water that runs into salt water. */
function followIntrusion(now: BatchNow, facts: BatchFacts): void {
  const { drum, fill, said, nowMs } = facts;
  const isOfSalt = isSaltDissolving(now, facts) || isSaltEnteredLate(now, facts);
  const runs = fill !== null && fill.endedAtMs === null && !isOfSalt;
  if (!runs || !isSalted(now.state)) {
    now.inflow = null;
    return;
  }
  if (now.inflow?.fill !== fill.id)
    now.inflow = { fill: fill.id, sinceMs: said.atMs, litres: 0, isTold: false };
  const { inflow } = now;
  now.cameInL += Math.max(0, (fill.litres ?? 0) - (inflow.litres ?? 0));
  inflow.litres = fill.litres;
  const leastL = Math.max(intrudesShare * drum.volumeL, said.level?.noticeableL ?? 0);
  const isMuch = fill.litres === null ? nowMs - inflow.sinceMs >= intrudesMs : fill.litres > leastL;
  if (!isMuch) return;
  inflow.isTold = nowMs > now.waterUntilMs;
  startAnew(now, said.atMs);
  if (now.state !== "heel") goTo(now, "mixing", said.atMs);
}

function followWater(now: BatchNow, { fill, drum, said }: BatchFacts): void {
  const runs = fill !== null && fill.endedAtMs === null;
  const { state } = now;
  if (runs && (state === "unknown" || state === "empty" || state === "fresh"))
    goTo(now, "filling", said.atMs);
  else if (!runs && state === "filling") goTo(now, "fresh", fill?.endedAtMs ?? said.atMs);
  const { level } = said;
  if (!level) return;
  if (state === "ready") {
    const drawnL = level.drawnL + level.fallingL;
    if (now.drawnL === null || drawnL < now.drawnL) now.drawnL = drawnL;
    if (drawnL - now.drawnL > useShare * drum.volumeL) goTo(now, "in-use", said.atMs);
  }
  if (level.litres === null) return;
  if (isBeingMixed(state)) now.deepestL = Math.max(now.deepestL ?? 0, level.litres);
  // What was emptied before it was ready is no batch any more; a small one that was never deeper is.
  const wasEmptied = isBeingMixed(now.state) && (now.deepestL ?? 0) > 2 * heelShare * drum.volumeL;
  if ((now.state === "in-use" || wasEmptied) && level.litres <= heelShare * drum.volumeL)
    goTo(now, "heel", said.atMs);
}

/** Goes on with what the witnesses and the running fill say now. */
export function followBatch(now: BatchNow, facts: BatchFacts): void {
  followIntrusion(now, facts);
  followWater(now, facts);
}

/** Goes on with what the probe in the drum says: its salinity, or 0 where the water is fresh. */
export function followSalinity(now: BatchNow, band: Band, salinity: number, tMs: number): void {
  const isSalt = salinity >= leastSalinity;
  if (!isSalted(now.state)) {
    now.probedMs = tMs;
    const mayBe = now.state === "fresh" || now.state === "unknown";
    now.saltSeenMs = isSalt && mayBe ? (now.saltSeenMs ?? tMs) : null;
    if (now.saltSeenMs === null || tMs - now.saltSeenMs < saltSeenMs) return;
    // Salt water from before the watch is taken to be what somebody uses.
    if (now.state === "unknown") goTo(now, "in-use", tMs);
    else {
      now.salt = [{ atMs: now.saltSeenMs, by: null, kg: null, lot: null }];
      startAnew(now, now.saltSeenMs);
      goTo(now, "mixing", tMs);
    }
  }
  takeSalinity(now, salinity, tMs);
  followBand(now, band, tMs);
  now.first ??= salinity;
  const { state } = now;
  if (state === "salted" && (isSalt || Math.abs(salinity - now.first) >= dissolvesBy))
    goTo(now, "mixing", tMs);
  const rests = tMs - now.addedMs >= steadyMs;
  if (now.state === "mixing" && rests && isSalt && isInBand(band, salinity) && isSteady(now)) {
    goTo(now, "ready", tMs);
    now.drawnL = null;
  }
}
