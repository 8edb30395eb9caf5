import { type LevelPlace, type LevelTrace, noiseOf, offsetOf } from "./level-trace.ts";

/** A fall, from where the level stood to its foot: as inflow alone would have left it, ms and litres. */
interface FallSeen {
  readonly fromMs: number;
  readonly fromL: number;
  readonly footMs: number;
  readonly footL: number;
}

/** Of the noise of one reading: what lies farther off both ends was read in mid-fall. */
const midSigmas = 3;

/** When an even fall passes the float's release, ms: by what was read on its way; null: nothing was. */
function passesMs(
  trace: LevelTrace,
  { fromMs, fromL, footMs, footL }: FallSeen,
  releaseL: number,
): number | null {
  const marginL = midSigmas * noiseOf(trace);
  const mids = trace.recent.filter(
    ({ tMs, litres }) => tMs > fromMs && tMs < footMs && litres < fromL - marginL && litres > footL + marginL,
  );
  const [first, last] = [mids[0], mids.at(-1)];
  if (!first || !last) return null;
  const after = mids.findIndex(({ litres }) => litres <= releaseL);
  const [above, under] = [mids[after - 1], mids[after]];
  if (above && under)
    return above.tMs + ((above.litres - releaseL) / (above.litres - under.litres)) * (under.tMs - above.tMs);
  // By one reading nobody knows how fast it fell: as likely in more than a period as in less.
  const perMs =
    last.tMs > first.tMs && first.litres > last.litres
      ? (first.litres - last.litres) / (last.tMs - first.tMs)
      : (fromL - footL) / trace.periodMs;
  const near = releaseL > first.litres ? first : last;
  return near.tMs + (near.litres - releaseL) / perMs;
}

/**
 * Since when water may have run in while the level fell, ms; null: the drum did not call. A float turned dry within the period
 * before it was read: when its level passed the release, where that was read in mid-fall, else in the middle.
 */
export function calledFrom(trace: LevelTrace, place: LevelPlace, fall: FallSeen): number | null {
  const { callsSinceMs, releaseL } = place;
  if (callsSinceMs === null) return null;
  if (place.isSaid === true) return Math.max(fall.fromMs, callsSinceMs);
  const middleMs = callsSinceMs - trace.periodMs / 2;
  const isWithin = callsSinceMs > fall.fromMs && callsSinceMs - trace.periodMs <= fall.footMs;
  const passedMs = releaseL === null || !isWithin ? null : passesMs(trace, fall, releaseL + offsetOf(trace));
  const fromMs =
    passedMs === null ? middleMs : Math.min(callsSinceMs, Math.max(callsSinceMs - trace.periodMs, passedMs));
  return Math.max(fall.fromMs, fromMs);
}
