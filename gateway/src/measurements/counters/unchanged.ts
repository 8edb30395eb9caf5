import { defineCell } from "../../path/index.ts";

/** What a node's counter proves of a channel: from the one time to the other, ms, both of its readings, nothing happened. */
export interface Unchanged {
  readonly sinceMs: number;
  readonly atMs: number;
  /** Of a meter: less than this can have come through, litres. Of a contact 0: it did not change over. */
  readonly withinL: number;
  /** What came before `sinceMs` was a count, not a start of the node: something happened then. */
  readonly counted: boolean;
}

/** By channel; none where no counter stands beside it, or where it was not seen to count yet. */
export const unchangedCell = defineCell<Unchanged>("unchanged");

/** Whether it is proved that nothing happened at a channel between two times, ms. */
export function isProvedUnchanged(unchanged: Unchanged | undefined, fromMs: number, toMs: number): boolean {
  return unchanged !== undefined && unchanged.sinceMs <= fromMs && toMs <= unchanged.atMs;
}

/** Whether something happened at a channel after a time, ms, as far as its node counted on. */
export const hasCounted = (unchanged: Unchanged | undefined, fromMs: number): boolean =>
  unchanged?.counted === true && unchanged.sinceMs > fromMs;
