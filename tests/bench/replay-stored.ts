// History over stored readings: what a derivation does, without writing.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createCalendar, pastRecords, runHistory } from "@drumlin/gateway/app";
import { readLine } from "@drumlin/gateway/line";
import { openLogbook } from "@drumlin/gateway/logbook";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { smallestLine } from "../acceptance/gateway-process.ts";
import { figure } from "./figures.ts";

const beginMs = Date.UTC(2026, 0, 1);
const days = 3;
const channels = ["reading/press/t-1[Cel]", "reading/press/ec-1[S/m]", "reading/press/ec-2[S/m]"];
const laterRuns = 9;
const lastRuns = 5;
const values = [18.2, 0.0412, 0.00005];

/** Runs the path's list over three days of three channels at 5 s. */
export async function replayStored(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-replay-"));
  const logbook = openLogbook({ folder });
  const series = await openSqliteSeries({ folder });
  logbook.record([{ kind: "line", seq: 1, atMs: beginMs - 1000, yaml: smallestLine }], 1);
  let readings = 0;
  for (let tMs = beginMs; tMs < beginMs + days * 86_400_000; tMs += 5000) {
    series.add({ series: "arrival/press", tMs, value: 40, flag: 1 });
    for (const [index, name] of channels.entries()) {
      series.add({ series: name, tMs, value: values[index] as number, flag: 1 });
      readings += 1;
    }
  }
  await series.sync();
  const records = pastRecords(logbook, createCalendar());
  const read = readLine(smallestLine);
  const past = { fromMs: beginMs, toMs: beginMs + days * 86_400_000 };
  /** Seconds, and processor time in us, of one run. */
  const run = async () => {
    const [begun, before] = [performance.now(), process.cpuUsage()];
    let measurements = 0;
    for await (const some of runHistory(
      { series, records, readLine: () => (read.ok ? read.line : null) },
      past,
    ))
      for (const { kind } of some) if (kind === "measurement") measurements += 1;
    const { user, system } = process.cpuUsage(before);
    return { seconds: (performance.now() - begun) / 1000, cpu: user + system, measurements };
  };
  const first = await run();
  figure("replayStoredCpuMicroseconds", first.cpu / readings, "us", "a reading, all threads");
  figure(
    "replayStoredPerSecond",
    readings / first.seconds,
    "1/s",
    `from the store, ${first.measurements} measurements`,
  );
  // By then all of it is compiled, as in a derivation of months.
  const later: Awaited<ReturnType<typeof run>>[] = [];
  for (let round = 0; round < laterRuns; round += 1) later.push(await run());
  const last = later.slice(-lastRuns).sort((a, b) => a.seconds - b.seconds)[lastRuns >> 1];
  const about = `the same again and again, median of the last ${lastRuns} of ${laterRuns}`;
  figure("replayStoredWarmCpuMicroseconds", (last?.cpu ?? Number.NaN) / readings, "us", about);
  figure("replayStoredWarmPerSecond", readings / (last?.seconds ?? Number.NaN), "1/s", about);
  logbook.close();
  await series.close();
  rmSync(folder, { recursive: true, force: true });
}
