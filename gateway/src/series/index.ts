export type { BatchLog, Behind, OwedRange, SeriesBatch } from "./batch-log.ts";
export type { SeriesBuckets, SeriesRow, SeriesStore, Written } from "./series-store.ts";
export { openSqliteSeries, type SqliteSeries } from "./sqlite/open-sqlite-series.ts";
