import type { DrumWitnesses } from "../drum-witnesses.ts";
import { forgetTrips } from "../learned.ts";
import type { DrumRecord } from "./drum-record.ts";

/** Its stop float releases elsewhere by its level: where it tripped by that counts no more. */
export function takeMoved(record: DrumRecord, { stop }: DrumWitnesses): void {
  if (stop?.movedMs === undefined || stop.movedMs === record.movedMs) return;
  record.movedMs = stop.movedMs;
  forgetTrips(record.learned, null);
}
