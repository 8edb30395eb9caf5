import type { Reading } from "../readings/index.ts";
import type { SeriesRow } from "../series/index.ts";

/** Entries of one millisecond that can be told apart: enough for 4 million a second. */
const maxEntriesOfMs = 4096;

/** When a reading was taken by the path: engine time, and its entry's order within that millisecond. */
export interface Arrival {
  readonly engineMs: number;
  readonly order: number;
}

/** Series of a node's arrivals: at the time of its readings, how much later the path took them, ms and order. */
export function arrivalSeriesOf(node: string): string {
  return `arrival/${node}`;
}

/** A lag and an order in one number: whole ms, and 1/4096 of a ms for each entry of that ms. */
function rowValue(lagMs: number, order: number): number {
  return lagMs + Math.min(order, maxEntriesOfMs - 1) / maxEntriesOfMs;
}

/** The arrival that a row of the series tells of readings at `tMs`. */
export function arrivalOf(tMs: number, value: number): Arrival {
  const lagMs = Math.floor(value);
  return { engineMs: tMs + lagMs, order: Math.round((value - lagMs) * maxEntriesOfMs) };
}

/**
 * One row for each time of a node's pack: history then takes its readings when the live path did. Without it, what came
 * 3 s after what another node said would be judged in another order than it was.
 */
export function createArrivals() {
  let engineMs = 0;
  let seq = 0;
  let order = 0;
  /** The last row of each node: its readings of the same time and entry need no other. */
  const last = new Map<string, { readonly tMs: number; readonly seq: number }>();
  return {
    /** The row of a reading that entry `entrySeq` gave at `nowMs`; null when its pack has one already. */
    rowOf({ node, tMs }: Reading, entrySeq: number, nowMs: number): Omit<SeriesRow, "beside"> | null {
      if (nowMs !== engineMs) order = 0;
      else if (entrySeq !== seq) order += 1;
      engineMs = nowMs;
      seq = entrySeq;
      const before = last.get(node);
      if (before && before.tMs === tMs && before.seq === entrySeq) return null;
      last.set(node, { tMs, seq: entrySeq });
      return { series: arrivalSeriesOf(node), tMs, value: rowValue(nowMs - tMs, order), flag: 1 };
    },
  };
}
