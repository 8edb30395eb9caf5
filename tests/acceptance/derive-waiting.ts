import type { Logbook } from "@drumlin/gateway/logbook";
import type { openSqliteSeries } from "@drumlin/gateway/series";
// Not the whole of `app`: a process that is killed at once has no use for a web server.
import { derive, finishDerivations } from "../../gateway/src/app/derive.ts";

/** Where a derivation can be cut. */
export type DerivingPoint =
  | "told, not in force"
  | "in force in the logbook"
  | "rows are on their way into force";

/** Does what a start of the gateway does with derivations that wait: what was cut first, then what is to be done. */
export async function deriveWaiting(
  { series, logbook }: { series: Awaited<ReturnType<typeof openSqliteSeries>>; logbook: Logbook },
  interval: { readonly fromMs: number; readonly toMs: number },
  pass: (point: DerivingPoint) => void = () => {},
): Promise<void> {
  const watched: typeof series.staging = {
    ...series.staging,
    publish(job) {
      pass("in force in the logbook");
      const published = series.staging.publish(job);
      pass("rows are on their way into force");
      return published;
    },
  };
  await finishDerivations(watched, logbook.derivations);
  const jobs = logbook.derivations.waiting().map(({ job }) => job);
  if (jobs.length === 0) return;
  const bound = { names: () => series.names(), range: series.range.bind(series), staging: watched };
  const announce = async () => pass("told, not in force");
  await derive({ series: bound, logbook, nowMs: interval.toMs, jobs, announce }, interval);
}
