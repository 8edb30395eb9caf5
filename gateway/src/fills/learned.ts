import { median } from "../statistics/index.ts";

const mostTrips = 10;
const mostFills = 20;
/** Before so many trips are known, their spread says nothing. */
const enoughTrips = 5;

/** What a drum's past fills taught. Plain JSON; newest last. */
export interface Learned {
  readonly tripsL: number[];
  readonly fills: { readonly litres: number | null; readonly durationMs: number }[];
}

/** Nothing learned yet. */
export function nothingLearned(): Learned {
  return { tripsL: [], fills: [] };
}

/** Remembers a trip's volume and a whole fill, the last 10 and 20 of them. */
export function learn(
  learned: Learned,
  tripAtL: number | null,
  litres: number | null,
  durationMs: number,
): void {
  if (tripAtL !== null) learned.tripsL.push(tripAtL);
  if (learned.tripsL.length > mostTrips) learned.tripsL.shift();
  learned.fills.push({ litres, durationMs });
  if (learned.fills.length > mostFills) learned.fills.shift();
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Where the stop float trips, litres: learned, else as the line says; null where neither knows. */
export function tripVolumeL(learned: Learned, saidL: number | null): number | null {
  return learned.tripsL.length > 0 ? mean(learned.tripsL) : saidL;
}

/** How far past that it may rise before the stop has failed: 3 standard deviations of its trips, at least 2 % of the drum; 4 % before 5 trips. */
export function tripToleranceL(learned: Learned, drumL: number): number {
  const { tripsL } = learned;
  if (tripsL.length < enoughTrips) return 0.04 * drumL;
  const middle = mean(tripsL);
  const deviation = Math.sqrt(
    tripsL.reduce((sum, trip) => sum + (trip - middle) ** 2, 0) / (tripsL.length - 1),
  );
  return Math.max(3 * deviation, 0.02 * drumL);
}

/** The usual flow, L/min, of fills whose litres are known. */
export function usualFlowLPerMin(learned: Learned): number | null {
  const flows = learned.fills.flatMap(({ litres, durationMs }) =>
    litres !== null && durationMs > 0 ? [(litres / durationMs) * 60_000] : [],
  );
  return flows.length === 0 ? null : median(flows);
}

/** How long a fill usually takes, ms; null before 3 fills. */
export function usualDurationMs(learned: Learned): number | null {
  return learned.fills.length < 3 ? null : median(learned.fills.map(({ durationMs }) => durationMs));
}
