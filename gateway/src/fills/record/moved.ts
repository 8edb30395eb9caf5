import { median } from "../../statistics/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { StopFailed } from "../guard/guard.ts";
import { figuresOf, forgetTrips, type Learned, noteChange } from "../learned.ts";
import type { DrumRecord } from "./drum-record.ts";
import { pauseMs } from "./fill-over.ts";
import type { OpenFill } from "./open-fill.ts";

/** Of the drum: a trip that reads no farther from that of its former proof is the same. */
const sameShare = 0.02;

/** Its stop float releases elsewhere by its level: where it tripped by that counts no more, until it trips there again. */
export function takeMoved(record: DrumRecord, { stop }: DrumWitnesses): void {
  if (stop?.movedMs === undefined || stop.movedMs === record.movedMs) return;
  record.movedMs = stop.movedMs;
  const { learned } = record;
  const formerL = figuresOf(learned).provedL === null ? learned.formerL : [...learned.proofL];
  forgetTrips(learned, null);
  if (formerL) learned.formerL = formerL;
}

function proveAgain(learned: Learned, formerL: readonly number[], tripL: number): void {
  forgetTrips(learned, null);
  learned.tripsL.push(tripL);
  learned.proofL.push(...formerL);
  learned.proofNeeds = Math.min(learned.proofNeeds, formerL.length);
  noteChange(learned);
}

/**
 * A fill that its float has ended where its former proof has it: what was moved, float or level, was set right, and that
 * proof holds again. Whoever was woken by it is not woken by each fill after it.
 */
export function takeSetRight(learned: Learned, open: OpenFill, drumL: number): void {
  const { formerL } = learned;
  const { tripAtL, trippedAtMs, stoppedAtMs } = open;
  if (!formerL || tripAtL === null || trippedAtMs === null || stoppedAtMs === null || open.tripInSilence)
    return;
  if (Math.abs(stoppedAtMs - trippedAtMs) > pauseMs) return;
  if (Math.abs(tripAtL - median(formerL)) <= sameShare * drumL) proveAgain(learned, formerL, tripAtL);
}

/**
 * Past its proved trip, and its float has ended it all the same, two fills in a row at the same of its level's readings: there it
 * trips now. Float or level was moved, or set right by part only, and nobody said so: the next fills wake nobody.
 */
export function takeTrippedAgain(
  record: DrumRecord,
  { tripAtL, trippedAtMs, stoppedAtMs, tripInSilence }: OpenFill,
  { failed, drumL }: { readonly failed: StopFailed | null; readonly drumL: number },
): void {
  const { learned, pastTripL: wasL } = record;
  delete record.pastTripL;
  if (failed?.reason !== 1 || tripAtL === null || trippedAtMs === null || stoppedAtMs === null) return;
  if (tripInSilence || Math.abs(stoppedAtMs - trippedAtMs) > pauseMs) return;
  if (wasL === undefined || Math.abs(tripAtL - wasL) > sameShare * drumL) {
    record.pastTripL = tripAtL;
    return;
  }
  const formerL = figuresOf(learned).provedL === null ? learned.formerL : [...learned.proofL];
  proveAgain(learned, [wasL, tripAtL], tripAtL);
  if (formerL) learned.formerL = formerL;
}
