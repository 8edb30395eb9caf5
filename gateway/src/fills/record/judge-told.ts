import type { DrumPlace } from "./drum-record.ts";
import { feedNow } from "./feeds.ts";
import { type Fills, limitOf, recordOf } from "./fills-state.ts";
import { keptOf } from "./kappa-trace.ts";
import { isOver, notOver, pauseJudging } from "./over-limit.ts";
import { withPast } from "./past-kappa.ts";
import { judgedThen } from "./standstill.ts";

/**
 * A fill that came late is over, and its probe's node had told of that time before: then there was no fill to judge its
 * readings for. They are judged as if they came in now.
 */
export function judgeTold(all: Fills, place: DrumPlace): void {
  const { open, answeredMs = 0 } = recordOf(all, place.drum.id);
  const limit25 = limitOf(all, place);
  if (limit25 === null || !open || open.awaitsMs === undefined) return;
  if (open.stoppedAtMs === null || open.badAtMs !== null) return;
  const over = notOver();
  const trace = withPast(keptOf(all.traces.get(place.seenAt) ?? []), all.pasts.get(place.seenAt));
  for (const { tMs, kappa25 } of trace) {
    if (tMs < open.startedAtMs || tMs > open.stoppedAtMs || tMs <= answeredMs) continue;
    if (kappa25 === null) {
      pauseJudging(over);
      continue;
    }
    const then = judgedThen(open, limit25, tMs);
    const isSettled = tMs - then.runsSinceMs > place.graceMs;
    const feed25 = place.feedAt === null ? null : feedNow(all.feeds.get(place.feedAt), tMs);
    if (!isOver(over, { kappa25, ...then, feed25, tMs, isSettled, isFirstWater: !isSettled })) continue;
    open.badAtMs = tMs;
    open.reasons.push({ code: "over-limit", values: { limit: limit25, point: place.seenTitle } });
    return;
  }
}
