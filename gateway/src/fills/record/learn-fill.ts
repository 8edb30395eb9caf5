import type { Fill } from "../fill.ts";
import { endDraw, goesOnWithDraw, isMoreThanUsual, learnDoubted } from "../learn-doubted.ts";
import { learnHabit } from "../learn-habit.ts";
import { learn } from "../learned.ts";
import type { Ending, OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";
import { ranMs } from "./standstill.ts";
import { teachesTrip } from "./trip-volume.ts";

/**
 * What a fill that has ended teaches; one that an alarm stood over, or that brought more than fits, little; one whose litres
 * contradict its float or whose trip nobody heard: nothing. One that stood, its float's trip borne out: how long its water
 * ran is no surprise at that time of day.
 */
export function learnFill(
  of: Following,
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
  const { place, record } = of;
  if (open.hasStood) {
    const ran = tripConfirmed === true ? ranMs(open, fill.startedAtMs, endedAtMs) : null;
    if (ran !== null)
      learnHabit(record.learned, {
        litres: isEstimated ? null : fill.litres,
        ranMs: ran,
        atMs: endedAtMs,
        ...(open.isDoubted ? { isDoubted: true as const } : {}),
      });
    return;
  }
  const { closedAtMs } = record.guard;
  // Somebody has closed its supply: how long it ran is no custom.
  if (closedAtMs !== undefined && closedAtMs >= fill.startedAtMs) return;
  const isTripped = end === "float-tripped";
  const litres = isEstimated ? null : fill.litres;
  const ran = { litres, durationMs: endedAtMs - fill.startedAtMs, atMs: endedAtMs };
  const tripAtL = isTripped && teachesTrip(of) ? fill.tripAtL : null;
  const roughL = tripConfirmed === true ? fill.litres : null;
  const { learned } = record;
  const isMore = (fill.litres ?? 0) > place.drum.volumeL;
  const goesOn = goesOnWithDraw(learned, fill.startedAtMs) && isMoreThanUsual(learned, ran);
  if (open.isDoubted || isMore || goesOn) {
    learnDoubted(learned, { ...ran, tripAtL, roughL, isConfirmed: isTripped && tripConfirmed !== false });
    return;
  }
  endDraw(learned);
  learn(learned, {
    ...ran,
    tripAtL,
    roughL,
    isPart: open.floatBeganMs === null,
  });
}
