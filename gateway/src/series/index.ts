export type { BatchLog, Behind, OwedRange, SeriesBatch } from "./batch-log.ts";
export { lineOf } from "./line-protocol.ts";
export type { SeriesBuckets, SeriesIntake, SeriesRow, SeriesStore, Written } from "./series-store.ts";
export { openSqliteSeries } from "./sqlite/open-sqlite-series.ts";
export { readSqliteSeries } from "./sqlite/read-sqlite-series.ts";
export type { SqliteSeries } from "./sqlite/sqlite-series.ts";
