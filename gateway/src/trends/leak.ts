import { straightLine } from "../statistics/index.ts";

/** The mean of 5 min of a level. */
export interface LevelMean {
  readonly tMs: number;
  readonly litres: number;
  readonly readings: number;
}

/** How fast a drum's level falls while nobody fills it or draws from it. */
export interface StillDrift {
  /** L/h; less than 0: it falls. */
  readonly litresPerHour: number;
  /** Standard error of that, L/h. */
  readonly errorLPerHour: number;
  /** The stretch that it was read over, epoch ms. */
  readonly fromMs: number;
  readonly toMs: number;
}

const hourMs = 3_600_000;
/** Shorter than this a slope says nothing; longer ago than this it says nothing of now. */
const leastMs = 2 * hourMs;
const maxMs = 3 * hourMs;
/** Noise of a mean moves it by less than so many of its standard deviations. */
const noiseTimes = 4;

/**
 * Only what came after the last draw, or after water was poured in: a change from one mean to the next that is more than
 * noise and more than `leastStepL`. An even fall that fast is taken for a draw as well: somebody lets water out.
 */
export function sinceLastStep(means: readonly LevelMean[], leastStepL: number, sigmaL: number): LevelMean[] {
  const isStep = (mean: LevelMean, before: LevelMean) => {
    const noise = (noiseTimes * sigmaL) / Math.sqrt(Math.max(1, mean.readings));
    return Math.abs(mean.litres - before.litres) > Math.max(leastStepL, noise);
  };
  const last = means.findLastIndex((mean, index) => index > 0 && isStep(mean, means[index - 1] as LevelMean));
  return means.slice(Math.max(0, last));
}

/** The means that still count. */
export const recent = (means: readonly LevelMean[]): readonly LevelMean[] =>
  means.filter(({ tMs }) => tMs > (means.at(-1)?.tMs ?? 0) - maxMs);

/** How fast the level moves, over 2 h at least; null before. */
export function stillDrift(means: readonly LevelMean[]): StillDrift | null {
  const [first, last] = [means[0], means.at(-1)];
  if (!first || !last || last.tMs - first.tMs < leastMs) return null;
  const { slope, slopeError } = straightLine(
    means.map(({ tMs }) => (tMs - first.tMs) / hourMs),
    means.map(({ litres }) => litres),
  );
  return { litresPerHour: slope, errorLPerHour: slopeError ?? 0, fromMs: first.tMs, toMs: last.tMs };
}
