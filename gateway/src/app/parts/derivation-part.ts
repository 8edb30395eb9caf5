import type { Journal } from "../../journal/index.ts";
import type { Logbook } from "../../logbook/index.ts";
import type { SqliteSeries } from "../../series/index.ts";
import type { ClockKeeper } from "../clock-keeper.ts";
import { DerivationJobs } from "../derivation-job.ts";
import { pastOnThread } from "../derivation-thread.ts";
import { definePart, type Giving } from "../parts.ts";
import type { RunningPath } from "./path-part.ts";

interface DerivationPartNeeds {
  readonly data: string;
  readonly time: ClockKeeper;
  readonly journal: Giving<Journal>;
  readonly series: Giving<SqliteSeries>;
  readonly logbook: Giving<Logbook>;
  readonly path: Giving<RunningPath>;
  readonly log: (message: string) => void;
}

/** Derivations of the past: those that an earlier run left waiting go on. */
export function derivationPart(needs: DerivationPartNeeds): Giving<DerivationJobs> {
  const { data, time, journal, series, logbook, path, log } = needs;
  const { clock, calendar } = time;
  return definePart("derivation", {
    start() {
      const { pipeline, driver, onAct } = path.it;
      const jobs = new DerivationJobs({
        journal: journal.it,
        series: series.it,
        logbook: logbook.it,
        nowMs: clock.nowMs,
        calendar,
        line: () => pipeline.line(),
        run: pastOnThread({ folder: data, calendar, whenCalm: () => driver.whenCalm() }),
        flush: () => driver.flush(),
        log,
      });
      onAct((act, atMs, validFromMs) => jobs.afterAct(act, atMs, validFromMs));
      jobs.start();
      return jobs;
    },
    stop: (jobs) => jobs.stop(),
    health: (jobs) => jobs.health(),
  });
}
