import type { SeriesBatch } from "../batch-log.ts";

/** The rows of a batch whose series is sent, in their order; the batch itself where all are. */
export function sentRows(
  batch: Omit<SeriesBatch, "id">,
  isSent: (series: string) => boolean,
): Omit<SeriesBatch, "id"> {
  const sent = batch.names.map(isSent);
  if (sent.every((is) => is)) return batch;
  const rows = Uint32Array.from(batch.series.keys()).filter((row) => sent[batch.series[row] as number]);
  return {
    names: batch.names,
    series: Uint32Array.from(rows, (row) => batch.series[row] as number),
    tMs: Float64Array.from(rows, (row) => batch.tMs[row] as number),
    values: Float64Array.from(rows, (row) => batch.values[row] as number),
    flags: Uint8Array.from(rows, (row) => batch.flags[row] as number),
  };
}
