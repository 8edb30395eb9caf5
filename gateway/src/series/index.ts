export type { SeriesBuckets, SeriesRow, SeriesStore } from "./series-store.ts";
export { openSqliteSeries } from "./sqlite/open-sqlite-series.ts";
