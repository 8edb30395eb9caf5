import type { SeriesRow } from "@drumlin/gateway/series";

/** What is known, as plainly as it can be said. */
export class Known {
  readonly rows = new Map<string, Map<number, SeriesRow>>();
  put(rows: readonly SeriesRow[]): void {
    for (const row of rows) {
      const of = this.rows.get(row.series) ?? new Map<number, SeriesRow>();
      this.rows.set(row.series, of.set(row.tMs, row));
    }
  }
  of(series: string): SeriesRow[] {
    return [...(this.rows.get(series)?.values() ?? [])].sort((a, b) => a.tMs - b.tMs);
  }
}
