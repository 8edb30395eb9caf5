import { bareCallMs, bareShare, type Learned } from "./learned.ts";

/** Begin and end are each told up to a period late: two calls of so many of them differ by a fifth for that alone. */
const leastPeriods = 10;

/** It takes no less than this share of the shortest call, whatever their spread says: the house's pressure is up by a quarter at most. */
const leastOfShortest = 0.8;

/** Between two of the sorted values, by their share of all. */
function atShare(sorted: readonly number[], share: number): number {
  const place = share * (sorted.length - 1);
  const [low, high] = [sorted[Math.floor(place)], sorted[Math.ceil(place)]] as [number, number];
  return low + (place - Math.floor(place)) * (high - low);
}

/**
 * How long a call takes in which nothing is drawn beside what releases the float, ms; null before 3 calls. A draw goes past
 * the release by some of its size, whatever that is by little as likely as by much or likelier (the residual of a renewal:
 * Cox, Renewal Theory, 1962). So calls are densest at that one, and it lies as far before their shortest tenth as that lies
 * before their shortest fifth. `periodMs`: of the float's node; of calls that last few of its periods the fifth itself, since
 * their shortest differ by when they were read and not by what was drawn.
 */
export function emptyCallMs(learned: Learned, periodMs = 0): number | null {
  const { callsMs, bareMs = callsMs } = learned;
  const fifthMs = bareCallMs(learned);
  if (fifthMs === null || fifthMs < leastPeriods * periodMs) return fifthMs;
  const sorted = [...bareMs].sort((a, b) => a - b);
  const denseMs = 2 * atShare(sorted, bareShare / 2) - atShare(sorted, bareShare);
  return Math.max(denseMs, leastOfShortest * (sorted[0] as number));
}
