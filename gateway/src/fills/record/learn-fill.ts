import type { Fill } from "../fill.ts";
import { seldomMs } from "../guard/stop-rules.ts";
import { learn } from "../learned.ts";
import type { Ending, OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";

/** What a fill that has ended teaches; one that stood, whose litres contradict its float or whose trip nobody heard: nothing. */
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
  if (open.hasStood || open.flowUnknown || open.tripInSilence) return;
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
