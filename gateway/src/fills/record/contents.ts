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
 * behind. It is none of what is drawn while the water runs.
 */
export function toReleaseL({ place, said: { level, stop } }: Following): number {
  if (place.drum.control !== "automatic" || level?.litres == null || !(level.fallingL > 0)) return 0;
  return Math.max(0, level.litres - (stop?.releasesAtL ?? level.litres));
}
