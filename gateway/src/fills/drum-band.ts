import { type Drum, type Line, stageInto } from "../line/index.ts";
import { isBehindMembrane, membraneLimit25 } from "./behind-membrane.ts";
import type { Feed } from "./record/feeds.ts";

/** Band of a drum behind resin where the line gives none, uS/cm: CO2 of the air alone brings pure water to about 1.1. */
const pureBand25 = 10;
/** What stands in a drum behind a membrane alone may be so many times what its point may have. */
const membraneBandTimes = 1.2;
/** Practical salinity on either side of a drum's target where the line file says nothing: common practice, no source. */
export const usualSalinityWithin = 1;

/**
 * What a drum's fresh water may read at most, uS/cm at 25 °C, by what its line says; `at` is the point at which its water
 * is judged. `by-feed`: it follows what the membrane before that point is fed with. Null: nothing says.
 */
export function freshBandOf(
  line: Line,
  { target, fedBy }: Pick<Drum, "target" | "fedBy">,
  at: string,
): number | "by-feed" | null {
  if (target.conductivity25UsPerCm !== null) return target.conductivity25UsPerCm;
  if (stageInto(line, fedBy)?.kind === "resin") return pureBand25;
  if (!isBehindMembrane(line, at)) return null;
  const own25 = line.points.find(({ id }) => id === at)?.limit25UsPerCm ?? null;
  return own25 === null ? "by-feed" : membraneBandTimes * own25;
}

/** The band that follows the feed, uS/cm at 25 °C; null while nothing is known of that. */
export function bandByFeed25(feed: Feed | undefined | null): number | null {
  const own25 = membraneLimit25(feed);
  return own25 === null ? null : membraneBandTimes * own25;
}
