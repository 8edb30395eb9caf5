import type { Worker } from "node:worker_threads";
import { openSqliteSeries, type SqliteSeries } from "../../series/index.ts";
import { definePart, type Giving, good } from "../parts.ts";

/** The embedded store of readings and measurements. */
export function seriesPart(data: string, onThread?: (worker: Worker) => void): Giving<SqliteSeries> {
  return definePart("series", {
    start: () => openSqliteSeries({ folder: data, ...(onThread ? { onThread } : {}) }),
    stop: (series) => series.close(),
    health: (series) =>
      series.trouble() === null
        ? good
        : { state: "failed", text: "its thread has ended and is started again" },
  });
}
