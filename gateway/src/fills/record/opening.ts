import type { DrumWitnesses } from "../drum-witnesses.ts";
import { learnOpening } from "../openings.ts";
import type { DrumRecord } from "./drum-record.ts";

/** Learns for how long the valve before a drum stands open, whether or not its float lets water through: a clock's, too. */
export function followOpening(record: DrumRecord, { inlet }: DrumWitnesses): void {
  const { openSinceMs } = record;
  if (inlet?.flowing === true) {
    record.openSinceMs = openSinceMs ?? inlet.sinceMs;
    return;
  }
  delete record.openSinceMs;
  // One that fell silent has not shut, as far as anybody knows.
  if (openSinceMs !== undefined && inlet?.flowing === false && record.guard.stopFailed === null)
    learnOpening(record.learned, inlet.sinceMs - openSinceMs);
}
