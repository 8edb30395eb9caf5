import type { Guard } from "../guard/guard.ts";
import type { DrumRecord } from "./drum-record.ts";

/** A fill that is long is told of once it has been so for so long; by hand at once. */
const toldAfterMs = 60_000;

/** An alarm stands over the fill and the call that go on: what they bring is not taken for the usual. */
export function markDoubted({ open, call }: DrumRecord, { notStopping, long, atMs }: Guard): void {
  const isLong = long !== null && (long.manual || atMs - long.sinceMs >= toldAfterMs);
  if (notStopping === null && !isLong) return;
  if (open) open.isDoubted = true;
  if (call) call.isDoubted = true;
}
