import { type LevelPlace, type LevelTrace, noiseOf } from "./level-trace.ts";

/** One that is read oftener shows soon enough by its windows that it rests. */
const seldomMs = 30_000;
/** So many readings, and as many before them, tell it where the float has tripped: no more than a window has. */
const leastReadings = 2;
const mostReadings = 4;
/** Of what the rise would have brought. */
const restsShare = 0.5;
/** So many standard deviations of the difference of two means lie within that, or more readings are needed. */
const clearSigmas = 3;

const mean = (trace: LevelTrace, from: number, to: number): number => {
  const of = trace.recent.slice(from, to);
  return of.reduce((sum, { litres }) => sum + litres, 0) / of.length;
};

/**
 * A level that is read once a minute needs ten readings to show that a rise is over, and a draw may come before that: the next
 * call would pass for the same fill. Where its float is wet too, a few that rise by less than half of what they should tell it.
 */
export function restsUnderWetFloat(trace: LevelTrace, { stopWet }: LevelPlace): boolean {
  const { recent, periodMs, riseLPerMin } = trace;
  if (stopWet !== true || periodMs <= seldomMs || !(riseLPerMin > 0)) return false;
  for (let count = leastReadings; count <= mostReadings && 2 * count <= recent.length; count += 1) {
    const leastL = (restsShare * riseLPerMin * count * periodMs) / 60_000;
    if (leastL < clearSigmas * noiseOf(trace) * Math.sqrt(2 / count)) continue;
    return mean(trace, -count, recent.length) - mean(trace, -2 * count, -count) < leastL;
  }
  return false;
}
