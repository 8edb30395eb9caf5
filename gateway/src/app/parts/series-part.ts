import type { Worker } from "node:worker_threads";
import type { Journal } from "../../journal/index.ts";
import { openSqliteSeries, type SqliteSeries } from "../../series/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving } from "../parts.ts";
import { createRenewal } from "./renewal.ts";

interface SeriesPartNeeds {
  readonly data: string;
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  readonly log: (message: string) => void;
  readonly onThread?: (worker: Worker) => void;
}

/** The embedded store of readings and measurements. */
export function seriesPart({ data, clock, journal, log, onThread }: SeriesPartNeeds): Giving<SqliteSeries> {
  const renewal = createRenewal("series.sqlite", log);
  return definePart("series", {
    start: () =>
      openSqliteSeries({
        folder: data,
        nowMs: clock.nowMs(),
        beforeRenewal: (fault) => renewal.before(journal.it, fault),
        ...(onThread ? { onThread } : {}),
      }),
    stop: (series) => series.close(),
    health: (series) =>
      series.trouble() === null
        ? renewal.health()
        : { state: "failed", text: "its thread has ended and is started again" },
  });
}
