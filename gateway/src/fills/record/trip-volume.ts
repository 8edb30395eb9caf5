import type { DrumWitnesses } from "../drum-witnesses.ts";
import { seldomMs } from "../guard/stop-rules.ts";
import { untaughtShare } from "../learned.ts";
import type { OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";

/** Remembers how high the level stood while the float hung dry. */
export function markHighest(open: OpenFill, { level, stop }: DrumWitnesses): void {
  if (open.trippedAtMs === null && stop?.wet === false && level?.litres != null)
    open.highestL = Math.max(open.highestL ?? level.litres, level.litres);
}

/**
 * The middle of a level that is seldom read lags behind; but its last reading comes with the float's second wet one, and by then a
 * valve that shuts with its float lets nothing in.
 */
const teachesBySight = ({ place, said: { level } }: Following): boolean =>
  place.drum.control === "automatic" && level !== null && level.periodMs > seldomMs;

/** Whether where the level stood at the trip tells where the float trips: by hand one that is seldom read lags behind it. */
export const teachesTrip = (of: Following): boolean =>
  (of.said.level?.periodMs ?? 0) <= seldomMs || teachesBySight(of);

/**
 * Where the level stood when the float tripped, L; null where nothing tells. Null too where it lay under what it said while
 * the float hung dry, by more than a drum may rise past its trip: water is under a float that hangs dry. Such a level is
 * upside down, or the float was moved meanwhile: it teaches no trip.
 */
export function tripVolume(
  of: Following,
  { highestL }: OpenFill,
): { readonly tripAtL: number | null; readonly isUnder: boolean } {
  const { place, said } = of;
  const { level, stop, atMs } = said;
  if (level?.litres == null || !stop) return { tripAtL: null, isUnder: false };
  const sinceL = level.flowing ? ((level.flowLPerMin ?? 0) * Math.max(0, atMs - stop.sinceMs)) / 60_000 : 0;
  // A valve that shut with the float let nothing in since, whatever flowed before.
  const litres = Math.max(
    level.litres - sinceL,
    Math.min(level.litres, highestL ?? Number.NEGATIVE_INFINITY),
    teachesBySight(of) ? (level.lastL ?? Number.NEGATIVE_INFINITY) : Number.NEGATIVE_INFINITY,
  );
  const mostL = litres + Math.max(untaughtShare * place.drum.volumeL, 3 * level.sigmaL);
  const isUnder = highestL !== undefined && highestL > mostL;
  return { tripAtL: isUnder ? null : litres, isUnder };
}
