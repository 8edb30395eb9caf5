import { requireInRange } from "../../quantities/index.ts";

/** Capacity as finished media have shown it, eq/L of bed. */
export interface LearnedCapacity {
  readonly eqPerL: number;
  /** Weighted spread (standard deviation) of the media around it; null from one alone: one says nothing of spread. */
  readonly spreadEqPerL: number | null;
  readonly media: number;
}

/** Each medium counts half of the one two after it (our own choice): the last four carry three quarters of the weight. */
const halfWeightMedia = 2;

/**
 * Capacity from finished media, oldest first (1–1000 of 0–10 eq/L each): a weighted mean in which the last few count
 * most, since feed and brand drift. Throws OutOfRange.
 */
export function learnedCapacity(finishedEqPerL: readonly number[]): LearnedCapacity {
  requireInRange("finished media", finishedEqPerL.length, 1, 1000, "1");
  let weights = 0;
  let squaredWeights = 0;
  let sum = 0;
  const weighted = finishedEqPerL.map((capacity, place) => {
    requireInRange("capacity", capacity, 0, 10, "eq/L");
    const weight = 0.5 ** ((finishedEqPerL.length - 1 - place) / halfWeightMedia);
    weights += weight;
    squaredWeights += weight * weight;
    sum += weight * capacity;
    return { weight, capacity };
  });
  const eqPerL = sum / weights;
  const squares = weighted.reduce((total, one) => total + one.weight * (one.capacity - eqPerL) ** 2, 0);
  // With reliability weights the unbiased divisor is the sum of weights less sum(w^2)/sum(w).
  const divisor = weights - squaredWeights / weights;
  return {
    eqPerL,
    spreadEqPerL: finishedEqPerL.length < 2 ? null : Math.sqrt(squares / divisor),
    media: finishedEqPerL.length,
  };
}
