import type { MaybeValue, QartodFlag } from "./flags.ts";
import { beyond, type Thresholds } from "./tests.ts";

/**
 * Test 6 in its differential form: the smaller of the steps to the two neighbours, where the value lies above both or below
 * both; a value on the way up or down is none, however steep (ioos_qc, the reference implementation of US IOOS, method
 * "differential"). So the neighbours of a spike pass, which the average of two neighbours flags with it. Without a
 * neighbour 2; missing 9.
 */
export function spikeDifferentialFlags(values: readonly MaybeValue[], limits: Thresholds): QartodFlag[] {
  return values.map((value, place) => {
    if (value === null) return 9;
    const before = values[place - 1] ?? null;
    const after = values[place + 1] ?? null;
    if (before === null || after === null) return 2;
    const [up, down] = [value - before, value - after];
    return beyond(up * down > 0 ? Math.min(Math.abs(up), Math.abs(down)) : 0, limits);
  });
}
