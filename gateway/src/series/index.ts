export type { BatchLog, Behind, OwedRange, SeriesBatch } from "./batch-log.ts";
export { influxClient, maxLines } from "./influx/influx-client.ts";
export { type InfluxCode, InfluxError, influxOutcomes } from "./influx/influx-outcome.ts";
export type { InfluxSender } from "./influx/influx-sender.ts";
export { InfluxSeries } from "./influx/influx-series.ts";
export type { InfluxState } from "./influx/influx-state.ts";
export { type InfluxSignIn, type InfluxTarget, influxTarget } from "./influx/influx-target.ts";
export { openInfluxSender } from "./influx/open-influx-sender.ts";
export { type SetAside, SetAsides } from "./influx/set-aside.ts";
export { writePoints } from "./influx/write-points.ts";
export { lineOf } from "./line-protocol.ts";
export { memoryOf, type NamedRows, NamedRowsGathered } from "./named-rows.ts";
export type {
  SeriesBuckets,
  SeriesIntake,
  SeriesRow,
  SeriesStaging,
  SeriesStore,
  Written,
} from "./series-store.ts";
export { openSqliteSeries } from "./sqlite/open-sqlite-series.ts";
export { readSqliteSeries, type SeriesLook } from "./sqlite/read-sqlite-series.ts";
export type { Retention } from "./sqlite/retention.ts";
export { seriesSchema } from "./sqlite/schema.ts";
export type { SqliteSeries } from "./sqlite/sqlite-series.ts";
export { withInflux } from "./with-influx.ts";
