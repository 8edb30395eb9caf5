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

/** What a meter's own total says beside its reading of a time. */
export interface Counted {
  /** Which start of the node it counts from. */
  readonly start: number;
  /** Litres since that start, by the line file's scale. */
  readonly litres: number;
  readonly tMs: number;
  /** What the meter said in the same pack, before calibration, L/min; null where it said nothing. */
  readonly said: number | null;
  /** It was seen to count what runs, in steps that are small beside a fill. */
  readonly isExact: boolean;
}

/** By the meter's channel; none where no total stands beside it. */
export const countedCell = defineCell<Counted>("counted");

/** What a float's node counted between two of its packs: it may have changed over and back. */
export interface Edges {
  readonly sinceMs: number;
  readonly atMs: number;
  readonly count: number;
}

/** The last changes that a node counted, by the contact's channel; none where it counts none. */
export const edgesCell = defineCell<Edges>("edges");

/** By channel; none where no counter stands beside it, or where it was not seen to count yet. */
export const unchangedCell = defineCell<Unchanged>("unchanged");

/** Whether it is proved that nothing happened at a channel between two times, ms. */
export function isProvedUnchanged(unchanged: Unchanged | undefined, fromMs: number, toMs: number): boolean {
  return unchanged !== undefined && unchanged.sinceMs <= fromMs && toMs <= unchanged.atMs;
}

/** Whether something happened at a channel after a time, ms, as far as its node counted on. */
export const hasCounted = (unchanged: Unchanged | undefined, fromMs: number): boolean =>
  unchanged?.counted === true && unchanged.sinceMs > fromMs;
