import { median, quantile, robustSpread } from "../statistics/index.ts";

const maxTrips = 10;
const maxFills = 20;
/** Before so many trips are known, their spread says nothing. */
const enoughTrips = 5;
/** Before so many good fills, what is usual is not known. */
const enoughFills = 5;
/** A fill of less than this share of the usual one teaches nothing. */
const leastShare = 0.3;
/** A fill shorter than this is chatter, ms. */
const leastMs = 20_000;

/** What a drum's past fills taught. Plain data; newest last; changed by `learn` alone. */
export interface Learned {
  readonly tripsL: number[];
  readonly fills: { readonly litres: number | null; readonly durationMs: number }[];
}

/** Nothing learned yet. */
export function nothingLearned(): Learned {
  return { tripsL: [], fills: [] };
}

type Extent = { readonly litres: number | null; readonly durationMs: number; readonly longestMs: number };

/** What follows from it: asked at each reading, worked out once for what was learned last. */
interface Figures {
  readonly tripL: number | null;
  /** Standard deviation of the trips, litres; null before 5 of them. */
  readonly tripDeviationL: number | null;
  readonly flowLPerMin: number | null;
  readonly extent: Extent | null;
}

const worked = new WeakMap<Learned, Figures>();

function figuresOf(learned: Learned): Figures {
  let figures = worked.get(learned);
  if (!figures) {
    const { tripsL } = learned;
    figures = {
      tripL: tripsL.length > 0 ? median(tripsL) : null,
      tripDeviationL: tripsL.length < enoughTrips ? null : robustSpread(tripsL).deviationOfMedianDeviation,
      flowLPerMin: flowOf(learned),
      extent: extentNow(learned),
    };
    worked.set(learned, figures);
  }
  return figures;
}

function isWhole(values: readonly number[], value: number): boolean {
  return values.length < 3 || value >= leastShare * median(values);
}

/** Remembers a trip's volume and a whole fill, the last 10 and 20 of them; a top-up or a chatter is not a whole fill. */
export function learn(
  learned: Learned,
  tripAtL: number | null,
  litres: number | null,
  durationMs: number,
): void {
  worked.delete(learned);
  if (tripAtL !== null) learned.tripsL.push(tripAtL);
  if (learned.tripsL.length > maxTrips) learned.tripsL.shift();
  const durations = learned.fills.map((fill) => fill.durationMs);
  if (durationMs < leastMs || !isWhole(durations, durationMs)) return;
  learned.fills.push({ litres, durationMs });
  if (learned.fills.length > maxFills) learned.fills.shift();
}

/** Where the stop float trips, litres: learned, else as the line says; null where neither knows. */
export function tripVolumeL(learned: Learned, saidL: number | null): number | null {
  return figuresOf(learned).tripL ?? saidL;
}

/**
 * How far past its trip the drum may rise before the stop has failed: 3 standard deviations of its trips, 2 % of the
 * drum or 3 steps of the level, whichever is greatest; 4 % of the drum before 5 trips.
 */
export function tripToleranceL(learned: Learned, drumL: number, stepL = 0): number {
  const { tripDeviationL } = figuresOf(learned);
  if (tripDeviationL === null) return Math.max(0.04 * drumL, 3 * stepL);
  return Math.max(3 * tripDeviationL, 0.02 * drumL, 3 * stepL);
}

/** The usual flow, L/min, of fills whose litres are known. */
export const usualFlowLPerMin = (learned: Learned): number | null => figuresOf(learned).flowLPerMin;

function flowOf(learned: Learned): number | null {
  const flows = learned.fills.flatMap(({ litres, durationMs }) =>
    litres !== null && durationMs > 0 ? [(litres / durationMs) * 60_000] : [],
  );
  return flows.length === 0 ? null : median(flows);
}

/** How long a fill usually takes, ms; null before 3 fills. */
export function usualDurationMs(learned: Learned): number | null {
  return learned.fills.length < 3 ? null : median(learned.fills.map(({ durationMs }) => durationMs));
}

/** The most that good fills take: 95th percentile of their litres and times, and the longest; null before 5 fills. */
export const extentOf = (learned: Learned): Extent | null => figuresOf(learned).extent;

function extentNow(learned: Learned): Extent | null {
  if (learned.fills.length < enoughFills) return null;
  const litres = learned.fills.flatMap((fill) => (fill.litres === null ? [] : [fill.litres]));
  const durations = learned.fills.map(({ durationMs }) => durationMs);
  return {
    litres: litres.length < enoughFills ? null : quantile(litres, 0.95),
    durationMs: quantile(durations, 0.95),
    longestMs: Math.max(...durations),
  };
}
