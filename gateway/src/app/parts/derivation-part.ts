import type { Journal } from "../../journal/index.ts";
import type { Logbook } from "../../logbook/index.ts";
import type { SqliteSeries } from "../../series/index.ts";
import type { Calendar } from "../calendar.ts";
import type { Clock } from "../clock.ts";
import { DerivationJobs } from "../derivation-job.ts";
import { definePart, type Giving } from "../parts.ts";
import type { RunningPath } from "./path-part.ts";

interface DerivationPartNeeds {
  readonly clock: Clock;
  readonly calendar: Calendar;
  readonly journal: Giving<Journal>;
  readonly series: Giving<SqliteSeries>;
  readonly logbook: Giving<Logbook>;
  readonly path: Giving<RunningPath>;
  readonly log: (message: string) => void;
}

/** Derivations of the past: those that an earlier run left waiting go on. */
export function derivationPart(needs: DerivationPartNeeds): Giving<DerivationJobs> {
  const { clock, calendar, journal, series, logbook, path, log } = needs;
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
