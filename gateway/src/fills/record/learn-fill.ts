import type { Fill } from "../fill.ts";
import { seldomMs } from "../guard/stop-rules.ts";
import { learnHabit } from "../learn-habit.ts";
import { learn } from "../learned.ts";
import type { Ending, OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";
import { ranMs } from "./standstill.ts";

/**
 * What a fill that has ended teaches; one whose litres contradict its float or whose trip nobody heard: nothing. One that
 * stood, its float's trip borne out: how long its water ran is no surprise at that time of day.
 */
export function learnFill(
  { record, said }: Following,
  {
    open,
    fill,
    ending: { end, endedAtMs, tripConfirmed },
    isEstimated,
  }: {
    readonly open: OpenFill;
    readonly fill: Fill;
    readonly ending: Ending;
    readonly isEstimated: boolean;
  },
): void {
  if (open.flowUnknown || open.tripInSilence) return;
  if (open.hasStood) {
    const ran = tripConfirmed === true ? ranMs(open, fill.startedAtMs, endedAtMs) : null;
    if (ran !== null)
      learnHabit(record.learned, { litres: isEstimated ? null : fill.litres, ranMs: ran, atMs: endedAtMs });
    return;
  }
  learn(record.learned, {
    // A level that is seldom read lags behind: it stood lower than the float tripped.
    tripAtL: end === "float-tripped" && (said.level?.periodMs ?? 0) <= seldomMs ? fill.tripAtL : null,
    litres: isEstimated ? null : fill.litres,
    roughL: tripConfirmed === true ? fill.litres : null,
    durationMs: endedAtMs - fill.startedAtMs,
    atMs: endedAtMs,
    isPart: open.floatBeganMs === null,
  });
}
