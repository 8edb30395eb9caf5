export type { SeriesBuckets, SeriesRow, SeriesStore } from "./series-store.ts";
export { openSqliteSeries, type SqliteSeries } from "./sqlite/open-sqlite-series.ts";
