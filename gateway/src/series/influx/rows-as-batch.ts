import type { SeriesBatch } from "../batch-log.ts";
import { columnsFor } from "../columns.ts";
import type { SeriesRow } from "../series-store.ts";

/** Rows of any series as the columns of a batch. */
export function rowsAsBatch(rows: readonly SeriesRow[]): Omit<SeriesBatch, "id"> {
  const numbers = new Map<string, number>();
  const batch = { series: new Uint32Array(rows.length), ...columnsFor(rows.length) };
  for (const [index, { series, tMs, value, flag }] of rows.entries()) {
    const number = numbers.get(series) ?? numbers.size;
    numbers.set(series, number);
    batch.series[index] = number;
    batch.tMs[index] = tMs;
    batch.values[index] = value ?? Number.NaN;
    batch.flags[index] = flag;
  }
  return { names: [...numbers.keys()], ...batch };
}
