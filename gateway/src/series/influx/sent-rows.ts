import type { SeriesBatch } from "../batch-log.ts";
import { columnsFor } from "../columns.ts";

/** The rows of a batch whose series is sent, in their order; the batch itself where all are. */
export function sentRows(
  batch: Omit<SeriesBatch, "id">,
  isSent: (series: string) => boolean,
): Omit<SeriesBatch, "id"> {
  const sent = batch.names.map(isSent);
  if (sent.every((is) => is)) return batch;
  const { series } = batch;
  // A batch has its rows series by series: whole runs are copied, on the thread that all else waits for.
  const runs: (readonly [from: number, to: number])[] = [];
  let count = 0;
  for (let from = 0; from < series.length; ) {
    let to = from + 1;
    while (to < series.length && series[to] === series[from]) to += 1;
    if (sent[series[from] as number]) {
      runs.push([from, to]);
      count += to - from;
    }
    from = to;
  }
  const rows = { names: batch.names, series: new Uint32Array(count), ...columnsFor(count) };
  let at = 0;
  for (const [from, to] of runs) {
    for (const column of ["series", "tMs", "values", "flags"] as const)
      rows[column].set(batch[column].subarray(from, to), at);
    at += to - from;
  }
  return rows;
}
