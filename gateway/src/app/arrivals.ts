import type { Reading } from "../readings/index.ts";
import type { SeriesRow } from "../series/index.ts";

/** Entries are told apart by the last bits of their number: 2048 a millisecond, 2 million a second. */
const orders = 4096;
/** After everything else of its millisecond. */
const afterAll = Number.POSITIVE_INFINITY;

/** When a reading was taken by the path: engine time, and its entry's order within that millisecond. */
export interface Arrival {
  readonly engineMs: number;
  /** The number of the entry, modulo 4096; infinite: after all entries of that millisecond. */
  readonly order: number;
}

/** Series of a node's arrivals: at the time of its readings, how much later the path took them, ms and order. */
export function arrivalSeriesOf(node: string): string {
  return `arrival/${node}`;
}

/** Whether a series tells of what was measured, and not of the gateway's own order: lag and number packed in one, for `arrivalOf`. */
export const isForOthers = (series: string): boolean => !series.startsWith(arrivalSeriesOf(""));

/** The order of an entry by its number in the journal. */
export const orderOf = (seq: number): number => seq % orders;

/** Which of two orders of one millisecond came first, as a sort wants it: less than 0, 0, more than 0. */
export function compareOrders(a: number, b: number): number {
  if (a === b) return 0;
  if (a === afterAll || b === afterAll) return a === afterAll ? 1 : -1;
  // Numbers of one millisecond lie close together: the shorter way round tells which is greater.
  const ahead = (a - b + orders) % orders;
  return ahead < orders / 2 ? ahead : ahead - orders;
}

/** What came late, taken at `engineMs` and after everything else of that millisecond. */
export const takenLate = (engineMs: number): Arrival => ({ engineMs, order: afterAll });

/** The arrival that a row of the series tells of readings at `tMs`. */
export function arrivalOf(tMs: number, value: number): Arrival {
  const lagMs = Math.floor(value);
  return { engineMs: tMs + lagMs, order: Math.round((value - lagMs) * orders) };
}

/**
 * One row for each time of a node's pack: history then takes its readings when the live path did. Without it, what came
 * 3 s after what another node said would be judged in another order than it was.
 */
export function createArrivals() {
  /** The last row of each node: its readings of the same time and entry need no other. */
  const last = new Map<string, { readonly series: string; tMs: number; seq: number }>();
  return {
    /** The row of a reading that entry `seq` gave at `nowMs`; null when its pack has one already. */
    rowOf({ node, tMs }: Reading, seq: number, nowMs: number): Omit<SeriesRow, "beside"> | null {
      const before = last.get(node);
      if (before && before.tMs === tMs && before.seq === seq) return null;
      const series = before?.series ?? arrivalSeriesOf(node);
      if (before) Object.assign(before, { tMs, seq });
      else last.set(node, { series, tMs, seq });
      // Lag and order in one number: whole ms, and 1/4096 of a ms for each order.
      return { series, tMs, value: nowMs - tMs + orderOf(seq) / orders, flag: 1 };
    },
  };
}
