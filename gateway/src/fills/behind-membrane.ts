import { type Line, nearestProbeBefore, stageInto } from "../line/index.ts";
import type { Feed } from "./record/feeds.ts";

/** Good water of a membrane alone: at most this share of what it is fed with (rejection of 90 %: common practice, no source). */
const membraneShare = 0.1;
/** uS/cm at 25 °C; a feed may be so soft that a tenth of it is less than any drum needs. */
const leastLimit25 = 5;

/** Whether a membrane is the last before a point that takes ions out: sediment and carbon filters leave them in. */
export function isBehindMembrane(line: Line, point: string): boolean {
  let stage = stageInto(line, point);
  while (stage && stage.kind !== "membrane" && stage.kind !== "resin") stage = stageInto(line, stage.from);
  return stage?.kind === "membrane";
}

/** The point with a probe from which a point's media are fed: past every resin and membrane before it; null: there is none. */
export function feedBefore(line: Line, point: string): string | null {
  let at = point;
  for (let stage = stageInto(line, at); stage; stage = stageInto(line, at)) {
    at = stage.from;
    if (stage.kind !== "resin" && stage.kind !== "membrane") continue;
    const probe = nearestProbeBefore(line, at);
    if (probe) return probe.id;
  }
  return null;
}

/** What the water of a membrane alone may read, uS/cm at 25 °C, by what it was fed with; null while nothing is known of that. */
export const membraneLimit25 = (feed: Feed | undefined | null): number | null =>
  feed ? Math.max(leastLimit25, membraneShare * feed.median25) : null;
