import { random } from "../../golden/random.ts";

/** A source of choices, the same for the same seed. */
export interface Draw {
  /** A whole number of [least, most]. */
  readonly whole: (least: number, most: number) => number;
  readonly of: <Value>(values: readonly Value[]) => Value;
  readonly chance: (share: number) => boolean;
}

/** Choices of a seed. */
export function drawOf(seed: number): Draw {
  const next = random(seed * 7919 + 13);
  // The first numbers of neighbouring seeds lie close together.
  for (let count = 0; count < 5; count += 1) next();
  return {
    whole: (least, most) => Math.round(least + next() * (most - least)),
    of: <Value>(values: readonly Value[]) => values[Math.floor(next() * values.length)] as Value,
    chance: (share) => next() < share,
  };
}
