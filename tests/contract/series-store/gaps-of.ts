import type { SeriesRow } from "@drumlin/gateway/series";

/** Where rows of each second are missing, the first five places, in words: for the message of a count that is not reached. */
export function gapsOf(rows: readonly SeriesRow[]): readonly string[] {
  const gaps = rows.flatMap(({ tMs }, at) => {
    const stepMs = (rows[at + 1]?.tMs ?? tMs) - tMs;
    return stepMs > 1000 ? [`${stepMs / 1000} s after row ${at}`] : [];
  });
  return gaps.slice(0, 5);
}
