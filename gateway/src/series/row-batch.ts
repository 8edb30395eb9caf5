import type { Flag } from "../readings/index.ts";
import { type Columns, columnsFor, type RowBatch, settled } from "./columns.ts";
import type { SeriesRow } from "./series-store.ts";

/** Set in a row's flag: it goes beside what stands at its time. */
export const besideBit = 0x80;

/** Rows as a batch; `numberOf` gives the number of a series. */
export function batchOf(rows: readonly SeriesRow[], numberOf: (series: string) => number): RowBatch {
  const batch = { series: new Uint32Array(rows.length), ...columnsFor(rows.length) };
  for (const [index, row] of rows.entries()) {
    batch.series[index] = numberOf(row.series);
    batch.tMs[index] = row.tMs;
    batch.values[index] = row.value ?? Number.NaN;
    batch.flags[index] = row.beside ? row.flag | besideBit : row.flag;
  }
  return batch;
}

/** Columns of one series as rows. */
export function rowsOf(series: string, { tMs, values, flags }: Columns): SeriesRow[] {
  const rows: SeriesRow[] = [];
  for (let index = 0; index < tMs.length; index += 1) {
    const value = values[index] as number;
    rows.push({
      series,
      tMs: tMs[index] as number,
      value: Number.isNaN(value) ? null : value,
      flag: flags[index] as Flag,
    });
  }
  return rows;
}

/** Rows that are made of columns at once: a whole day of them would all outlive the next collection of young objects. */
const rowsAtOnce = 512;

/** Columns of one series as rows, some at a time. */
export function* rowsInPieces(
  series: string,
  { tMs, values, flags }: Columns,
): Generator<readonly SeriesRow[]> {
  for (let from = 0; from < tMs.length; from += rowsAtOnce) {
    const to = from + rowsAtOnce;
    yield rowsOf(series, {
      tMs: tMs.subarray(from, to),
      values: values.subarray(from, to),
      flags: flags.subarray(from, to),
    });
  }
}

/** The rows of each series of a batch, in the order in which they came. */
export function bySeries({ series, tMs, values, flags }: RowBatch): Map<number, Columns> {
  let size = 0;
  for (let index = 0; index < series.length; index += 1) size = Math.max(size, (series[index] as number) + 1);
  // By the number of the series: looking it up in a map cost more than all the rest.
  const counts = new Uint32Array(size);
  for (let index = 0; index < series.length; index += 1) {
    const id = series[index] as number;
    counts[id] = (counts[id] as number) + 1;
  }
  const found = new Map<number, Columns>();
  const columns: Columns[] = new Array(size);
  for (let id = 0; id < size; id += 1) {
    if (counts[id] === 0) continue;
    const of = columnsFor(counts[id] as number);
    columns[id] = of;
    found.set(id, of);
  }
  counts.fill(0);
  for (let index = 0; index < series.length; index += 1) {
    const id = series[index] as number;
    const into = columns[id] as Columns;
    const at = counts[id] as number;
    counts[id] = at + 1;
    into.tMs[at] = tMs[index] as number;
    into.values[at] = values[index] as number;
    into.flags[at] = flags[index] as number;
  }
  return found;
}

/** So far a row looks for a free millisecond. */
export const maxBesideMs = 1000;

/** Whether rows that came have one that goes beside what stands. */
export function hasBeside({ flags }: Columns): boolean {
  for (let index = 0; index < flags.length; index += 1)
    if (((flags[index] as number) & besideBit) !== 0) return true;
  return false;
}

const sameValue = (a: number, b: number) => a === b || (Number.isNaN(a) && Number.isNaN(b));

/**
 * Rows of one series that came, some of them to go beside what stands: those take the first free millisecond; one where
 * the same stands already is its own, written before.
 */
export function besideSettled(came: Columns, standing: Columns): Columns {
  const at = new Map<number, readonly [value: number, flag: number]>();
  for (const [index, tMs] of standing.tMs.entries())
    at.set(tMs, [standing.values[index] as number, standing.flags[index] as number]);
  const rows = columnsFor(came.tMs.length);
  for (const [index, asked] of came.tMs.entries()) {
    const value = came.values[index] as number;
    const bits = came.flags[index] as number;
    const flag = bits & ~besideBit;
    let tMs = asked;
    if (bits & besideBit) {
      const isFree = (ms: number) => {
        const there = at.get(ms);
        return !there || (sameValue(there[0], value) && there[1] === flag);
      };
      while (tMs < asked + maxBesideMs && !isFree(tMs)) tMs += 1;
      if (tMs === asked + maxBesideMs) tMs = asked;
    }
    at.set(tMs, [value, flag]);
    rows.tMs[index] = tMs;
    rows.values[index] = value;
    rows.flags[index] = flag;
  }
  return settled(rows);
}

/** The rows that say something else than what stands, and how many of them say it where something stood. */
export function changedRows(
  came: Columns,
  standing: Columns,
): { readonly rows: Columns; readonly replaced: number } {
  const keep: number[] = [];
  let replaced = 0;
  let at = 0;
  for (let index = 0; index < came.tMs.length; index += 1) {
    const tMs = came.tMs[index] as number;
    while (at < standing.tMs.length && (standing.tMs[at] as number) < tMs) at += 1;
    const stands = standing.tMs[at] === tMs;
    if (
      stands &&
      standing.flags[at] === came.flags[index] &&
      sameValue(standing.values[at] as number, came.values[index] as number)
    )
      continue;
    if (stands) replaced += 1;
    keep.push(index);
  }
  if (keep.length === came.tMs.length) return { rows: came, replaced };
  return {
    rows: {
      tMs: Float64Array.from(keep, (index) => came.tMs[index] as number),
      values: Float64Array.from(keep, (index) => came.values[index] as number),
      flags: Uint8Array.from(keep, (index) => came.flags[index] as number),
    },
    replaced,
  };
}
