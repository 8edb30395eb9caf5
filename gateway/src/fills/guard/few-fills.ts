import { extentOf, type Learned } from "../learned.ts";
import { brimShare } from "../trip-bound.ts";

/** With fewer good fills, what the most of them brought is hardly known: nobody has drawn in the midst of one yet. */
const fewFills = 8;
/** A bucket of half a fill, drawn while it runs. */
const fewTimes = 1.6;

/**
 * What a call may bring, litres, while few good fills are known: more than later, but no more than fits between the release
 * of its float and the brim. `releasesL`: where it releases, litres. 0: as many are known as tell by themselves.
 */
export function fewFillsMostL(learned: Learned, releasesL: number | null, drumL: number): number {
  const litres = extentOf(learned)?.litres ?? null;
  if (litres === null || releasesL === null || learned.fills.length >= fewFills) return 0;
  return Math.max(0, Math.min(fewTimes * litres, brimShare * drumL - releasesL));
}
