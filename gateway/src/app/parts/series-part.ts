import type { Worker } from "node:worker_threads";
import type { Journal } from "../../journal/index.ts";
import { openSqliteSeries, type Retention, type SqliteSeries } from "../../series/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving } from "../parts.ts";
import { createRenewal } from "./renewal.ts";

interface SeriesPartNeeds {
  readonly data: string;
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  /** How long readings are kept; 5 years, whatever their size, where nothing is said. */
  readonly retention?: Partial<Retention> | undefined;
  readonly log: (message: string) => void;
  readonly onThread?: (worker: Worker) => void;
}

/** The embedded store of readings and measurements. */
export function seriesPart({
  data,
  clock,
  journal,
  retention = {},
  log,
  onThread,
}: SeriesPartNeeds): Giving<SqliteSeries> {
  const renewal = createRenewal("series.sqlite", log);
  return definePart("series", {
    start: () =>
      openSqliteSeries({
        folder: data,
        lastSeq: journal.it.lastSeq,
        nowMs: clock.nowMs(),
        retention,
        beforeRenewal: (fault) => renewal.before(journal.it, fault),
        onMended: renewal.meanwhile,
        ...(onThread ? { onThread } : {}),
      }),
    stop: (series) => series.close(),
    health(series) {
      const trouble = series.trouble();
      if (trouble?.kind === "thread")
        return { state: "failed", text: "its thread has ended and is started again" };
      if (trouble?.kind === "file")
        return { state: "degraded", text: "its file can't be put in order now; it is tried again" };
      if (trouble?.kind === "unreadable")
        return { state: "degraded", text: `series.sqlite is damaged: ${trouble.text} can't be read` };
      const renewed = renewal.health();
      const moving = series.moveProgress();
      if (renewed.state !== "good" || !moving) return renewed;
      const percent = Math.floor((100 * (moving.of - moving.left)) / Math.max(1, moving.of));
      return { state: "good", text: `moves the store of the version before, ${percent} %` };
    },
  });
}
