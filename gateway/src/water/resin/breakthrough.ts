import type { Litre, UsPerCm } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";
import { type LogisticRefusal, logisticFit, studentT } from "../../statistics/index.ts";

/** How far a bed has let through at a treated volume: 0 holds all, 1 holds nothing. */
export interface BreakthroughPoint {
  readonly volumeL: Litre;
  readonly share: number;
}

/** A fitted breakthrough, over treated volume so that flow may vary. */
export interface Breakthrough {
  /** Rate of Yoon and Nelson per litre treated. */
  readonly ratePerL: number;
  /** Volume at which half of the feed passes. */
  readonly halfL: Litre;
  /** Where the half lies with the asked confidence. */
  readonly halfIntervalL: readonly [Litre, Litre];
  readonly rateStandardErrorPerL: number;
  readonly halfStandardErrorL: Litre;
  readonly rateHalfCovariance: number;
  /** Multiple of a standard error at the asked confidence. */
  readonly studentT: number;
  /** Share of the points' variation that the curve explains. */
  readonly rSquared: number;
  readonly residualSd: number;
  readonly residualSumOfSquares: number;
}

/** A fit, or why there is none. */
export type BreakthroughFit =
  | { readonly ok: true; readonly curve: Breakthrough }
  | { readonly ok: false; readonly code: LogisticRefusal; readonly message: string };

/** Volume at a share and what gave it, or why none is told. */
export type ShareVolume =
  | { readonly by: "points" | "curve"; readonly volumeL: Litre }
  /** before-start: the curve puts it before 0. contradicted: the curve puts it where a point shows another share. */
  | { readonly by: "before-start" | "contradicted"; readonly volumeL: null };

/**
 * Share of the feed that passes, from reference conductivities after and before the bed and of the bed when fresh:
 * (after - fresh) / (feed - fresh). A little under 0 or over 1 is the probes' error or a displaced ion, and is kept.
 * Throws OutOfRange where the feed is not above the fresh bed.
 */
export function shareOfFeed(after: UsPerCm, feed: UsPerCm, fresh: UsPerCm = 0.055): number {
  requireInRange("conductivity after the bed", after, 0, 1_000_000, "uS/cm");
  requireInRange("conductivity after the fresh bed", fresh, 0, 1_000_000, "uS/cm");
  requireInRange("conductivity of the feed", feed, fresh + 0.01, 1_000_000, "uS/cm");
  return (after - fresh) / (feed - fresh);
}

/**
 * Breakthrough curve share = 1 / (1 + exp(rate (half - volume))): Yoon and Nelson (1984), and with rate = k C0 / Q the
 * same curve as Thomas (1944); review Xu, Cai and Pan, J. Zhejiang Univ. Sci. A 14 (2013) 155. Least squares over three
 * or more points; `confidence` 0.01–0.999. Refusals are logisticFit's; a confidence out of range throws OutOfRange.
 */
export function fitBreakthrough(points: readonly BreakthroughPoint[], confidence = 0.95): BreakthroughFit {
  requireInRange("confidence", confidence, 0.01, 0.999, "1");
  const fit = logisticFit(
    points.map(({ volumeL, share }) => ({ x: volumeL, y: share })),
    1,
  );
  if (!fit.ok) return fit;
  const { rate, middle, standardErrors, degreesOfFreedom, residualSd, residualSumOfSquares } = fit.curve;
  const multiple = studentT(confidence, Math.min(10_000, degreesOfFreedom));
  const reach = multiple * standardErrors.middle;
  const mean = points.reduce((sum, { share }) => sum + share, 0) / points.length;
  const variation = points.reduce((sum, { share }) => sum + (share - mean) ** 2, 0);
  return {
    ok: true,
    curve: {
      ratePerL: rate,
      halfL: middle,
      halfIntervalL: [middle - reach, middle + reach],
      rateStandardErrorPerL: standardErrors.rate,
      halfStandardErrorL: standardErrors.middle,
      rateHalfCovariance: fit.curve.rateMiddleCovariance,
      studentT: multiple,
      rSquared: 1 - residualSumOfSquares / variation,
      residualSd,
      residualSumOfSquares,
    },
  };
}

/** Treated volume at which a fitted curve passes a share (0.001–0.999): half + ln(share / (1 - share)) / rate. Throws OutOfRange. */
export function volumeOfShare({ ratePerL, halfL }: Breakthrough, share: number): Litre {
  requireInRange("share", share, 0.001, 0.999, "1");
  return halfL + Math.log(share / (1 - share)) / ratePerL;
}

/**
 * Treated volume where the points first rise through a share and stay at or above it, by a straight line between the
 * two; null while they have not. Points in order of volume.
 */
export function crossingOf(points: readonly BreakthroughPoint[], share: number): Litre | null {
  let place = points.length;
  while (place > 0 && (points[place - 1] as BreakthroughPoint).share >= share) place -= 1;
  const below = points[place - 1];
  const above = points[place];
  if (!below || !above) return null;
  return (
    below.volumeL + ((above.volumeL - below.volumeL) * (share - below.share)) / (above.share - below.share)
  );
}

/**
 * Treated volume at a share: between the measured points where they have passed it, else by the curve, where that lies
 * beyond the points: after the last that is under the share, before the first that is over it. The logistic is early at
 * the foot (on a published column it gives 3.39 h for 1 % where the points say 3.64 h), so points win.
 */
export function volumeAtShare(
  points: readonly BreakthroughPoint[],
  curve: Breakthrough,
  share: number,
): ShareVolume {
  const crossed = crossingOf(points, share);
  if (crossed !== null) return { by: "points", volumeL: crossed };
  const volumeL = volumeOfShare(curve, share);
  if (volumeL < 0) return { by: "before-start", volumeL: null };
  const [first, last] = [points[0], points.at(-1)];
  const passed = (last?.share ?? 0) >= share;
  const beyond = passed ? volumeL <= (first?.volumeL ?? volumeL) : volumeL >= (last?.volumeL ?? volumeL);
  return beyond ? { by: "curve", volumeL } : { by: "contradicted", volumeL: null };
}
