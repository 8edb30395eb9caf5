// node derive-until-killed.ts FOLDER FROM TO POINT: does what a start of the gateway does with derivations that wait in a
// folder, and kills itself (-9) at a point; "none": at none.
import { derive, finishDerivations } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import { openSqliteSeries } from "@drumlin/gateway/series";

const [folder = "", fromMs = "", toMs = "", point = "none"] = process.argv.slice(2);
const series = await openSqliteSeries({ folder });
const logbook = openLogbook({ folder });

function killAt(here: string): void {
  if (here === point) process.kill(process.pid, "SIGKILL");
}
const { staging } = series;
const watched: typeof staging = {
  ...staging,
  async stage(job, rows) {
    const staged = staging.stage(job, rows);
    killAt("rows are on their way aside");
    const done = await staged;
    killAt("rows lie aside");
    return done;
  },
  async publish(job) {
    killAt("in force in the logbook");
    const published = staging.publish(job);
    killAt("rows are on their way into force");
    await published;
    killAt("all is in force");
  },
};

await finishDerivations(watched, logbook.derivations);
const jobs = logbook.derivations.waiting().map(({ job }) => job);
const bound = { names: () => series.names(), range: series.range.bind(series), staging: watched };
const announce = async () => killAt("told, not in force");
if (jobs.length > 0)
  await derive(
    { series: bound, logbook, nowMs: Number(toMs), jobs, announce },
    { fromMs: Number(fromMs), toMs: Number(toMs) },
  );
logbook.close();
await series.close();
