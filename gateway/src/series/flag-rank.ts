import type { Flag } from "../readings/index.ts";

// Precedence of roll-ups from low to high (ioos_qc, qartod_compare): 9, 2, 1, 3, 4.
const byRank: readonly Flag[] = [9, 2, 1, 3, 4];

/** A flag's place in the precedence of roll-ups: the highest in a bucket is the bucket's. */
export function rankOf(flag: Flag): number {
  return byRank.indexOf(flag);
}

/** The flag at a place of the precedence; 9 outside. */
export function flagOfRank(rank: number): Flag {
  return byRank[rank] ?? 9;
}
