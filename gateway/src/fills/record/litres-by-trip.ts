import { emptyCallMs } from "../empty-call.ts";
import { seldomMs } from "../guard/stop-rules.ts";
import { rescale } from "./account.ts";
import { spanOf } from "./call.ts";
import type { OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";

/** A seldom read level and its float see the same begin so far apart. */
const latePeriods = 5;
/** Of the time that what fits between release and trip takes at the greatest flow: over it, more came in. */
const knownTimes = 2;

/**
 * Litres of a fill that only its float tells of: what fits between release and trip, where both are known; by the flow
 * of calls in which nothing else was drawn where it takes longer than they do.
 */
export function litresByTrip({ said, record }: Following, open: OpenFill): void {
  // Its own release and trip: one that is told late is over when its float has called again, and tripped.
  const { floatBeganMs: beganMs = record.floatBeganMs, trippedAtMs } = open;
  const isWhole = beganMs !== null && beganMs <= open.startedAtMs;
  const span = spanOf(said);
  if (trippedAtMs === null || !isWhole || span === null || !(open.minutes.came > 0)) return;
  const emptyMs = emptyCallMs(record.learned, said.stop?.periodMs ?? 0);
  const ms = trippedAtMs - open.startedAtMs;
  // Before calls are known: it took so long that more was drawn meanwhile than anybody knows.
  const fastestMs = said.greatestFlowLPerMin ? (span * 60_000) / said.greatestFlowLPerMin : null;
  if (emptyMs === null && fastestMs !== null && ms > knownTimes * fastestMs) return;
  const times = emptyMs === null ? 1 : ms / Math.max(emptyMs, fastestMs ?? 0);
  Object.assign(open.litres, open.minutes);
  // What was drawn before and meanwhile makes it last longer.
  rescale(open.litres, Math.max(1, times) * span);
  open.knowsLitres = true;
  open.estimated = true;
}

/**
 * A level that is seldom read does not see what comes in between the last reading before a draw and the first one after
 * it: from release to trip no less came in than fits between them.
 */
export function litresAtLeast({ said, record }: Following, open: OpenFill): void {
  const { level } = said;
  const span = spanOf(said);
  const { floatBeganMs: beganMs = record.floatBeganMs } = open;
  if (!level || level.periodMs <= seldomMs || span === null || beganMs === null) return;
  const isWhole = open.trippedAtMs !== null && beganMs >= open.startedAtMs - latePeriods * level.periodMs;
  if (!isWhole || open.tripInSilence || open.startedAtMs - beganMs > latePeriods * level.periodMs) return;
  if (!(open.litres.came > 0) || open.litres.came >= span) return;
  rescale(open.litres, span);
  open.estimated = true;
}
