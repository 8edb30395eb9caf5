import { factsOf } from "./facts.ts";
import type { Following } from "./running.ts";

/**
 * Goes on with what the drum held when its fill began, which bounds what that may bring. A level that was lost or silent in
 * mid-fill has not seen what was drawn meanwhile; once it tells again, the drum holds what it says, whatever came and went
 * before: what was counted by then is as if it had come into a drum that ended there.
 */
export function followContents(of: Following): void {
  const { record, said } = of;
  const { open } = record;
  if (said.level?.lastL == null) {
    if (open) open.contentsL = null;
    if (record.call) record.call.levelL = null;
    return;
  }
  const { litres, flowing } = said.level;
  const { fill } = factsOf(of);
  if (!open || !fill || open.contentsL !== null || litres === null || flowing === null) return;
  open.contentsL = litres + fill.drawnL - Math.max(fill.meterL ?? 0, fill.levelL ?? 0);
}

/**
 * What of a draw that goes on was yet to fall to where the float releases, L: such a draw makes it call, and the level lags
 * behind. It is none of what is drawn while the water runs. Under 0: so much fell from there on already, and that is.
 */
export function toReleaseL({ place, said: { level, stop } }: Following): number {
  const nowL = level?.lastL ?? level?.litres;
  if (place.drum.control !== "automatic" || !level || nowL == null || !(level.fallingL > 0)) return 0;
  return Math.max(-level.fallingL, nowL - (stop?.releasesAtL ?? nowL));
}
