// History over stored readings: what a derivation does, without writing.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { createCalendar, pastRecords, runHistory } from "@drumlin/gateway/app";
import { readLine } from "@drumlin/gateway/line";
import { openLogbook } from "@drumlin/gateway/logbook";
import { openSqliteSeries, type SqliteSeries } from "@drumlin/gateway/series";
import { eventually, smallestLine } from "../acceptance/gateway-process.ts";
import { figure } from "./figures.ts";

const beginMs = Date.UTC(2026, 0, 1);
const dayMs = 86_400_000;
const days = 60;
/** The first of them are run by a process that has just started, and a few times again at the end. */
const firstDays = 3;
const channels = ["reading/press/t-1[Cel]", "reading/press/ec-1[S/m]", "reading/press/ec-2[S/m]"];
const lastRuns = 5;
const values = [18.2, 0.0412, 0.00005];
const readingsOf = (ofDays: number) => (ofDays * dayMs * channels.length) / 5000;

async function fill(series: SqliteSeries): Promise<void> {
  for (let tMs = beginMs; tMs < beginMs + days * dayMs; tMs += 5000) {
    series.add({ series: "arrival/press", tMs, value: 40, flag: 1 });
    for (const [index, name] of channels.entries())
      series.add({ series: name, tMs, value: values[index] as number, flag: 1 });
    if (!series.hasRoom) await series.whenRoom();
  }
  await series.sync();
}

/** What is derived was sealed long ago; packing it is not to be measured along. */
async function sealed(folder: string): Promise<void> {
  const database = new DatabaseSync(join(folder, "series.sqlite"), { readOnly: true });
  const sealedTo = database.prepare("SELECT coalesce(min(sealed_to), 0) AS ms FROM family");
  const isSealed = async () => (sealedTo.get()?.ms as number) >= beginMs + days * dayMs - 2 * 3_600_000;
  await eventually(isSealed, (done) => done);
  database.close();
}

/** What some of a run took. */
interface Took {
  readonly seconds: number;
  /** Of the processor, all threads, us. */
  readonly cpu: number;
  readonly measurements: number;
}

/** A clock of a run: what it took so far. */
function clock(): (measurements: number) => Took {
  const [begun, before] = [performance.now(), process.cpuUsage()];
  return (measurements) => {
    const { user, system } = process.cpuUsage(before);
    return { seconds: (performance.now() - begun) / 1000, cpu: user + system, measurements };
  };
}

function rate(name: string, { seconds, cpu, measurements }: Took, ofDays: number, about: string): void {
  const readings = readingsOf(ofDays);
  figure(`${name}CpuMicroseconds`, cpu / readings, "us", "a reading, all threads");
  figure(
    `${name}PerSecond`,
    readings / seconds,
    "1/s",
    `${about}: ${readings} readings, ${measurements} measurements`,
  );
}

/** Runs the path's list over 60 days of three channels at 5 s: a process's first three, all of them, three once more. */
export async function replayStored(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-replay-"));
  const logbook = openLogbook({ folder });
  const series = await openSqliteSeries({ folder });
  logbook.record([{ kind: "line", seq: 1, atMs: beginMs - 1000, yaml: smallestLine }], 1);
  await fill(series);
  await sealed(folder);
  const records = pastRecords(logbook, createCalendar());
  const read = readLine(smallestLine);
  /** What all of it took, and its first days. */
  const run = async (ofDays: number): Promise<{ readonly all: Took; readonly first: Took }> => {
    const took = clock();
    let measurements = 0;
    let first: Took | null = null;
    for await (const some of runHistory(
      { series, records, readLine: () => (read.ok ? read.line : null) },
      { fromMs: beginMs, toMs: beginMs + ofDays * dayMs },
    ))
      for (const outcome of some) {
        if (outcome.kind !== "measurement") continue;
        if (first === null && outcome.tMs >= beginMs + firstDays * dayMs) first = took(measurements);
        measurements += 1;
      }
    const all = took(measurements);
    return { all, first: first ?? all };
  };
  const { all, first } = await run(days);
  rate("replayStored", first, firstDays, "from the store, by a process that has just started");
  rate("replayStoredLong", all, days, "the same run to its end, as a derivation of months goes on");
  const last: Took[] = [];
  for (let round = 0; round < lastRuns; round += 1) last.push((await run(firstDays)).all);
  last.sort((a, b) => a.seconds - b.seconds);
  rate("replayStoredWarm", last[lastRuns >> 1] as Took, firstDays, `again, median of ${lastRuns}`);
  logbook.close();
  await series.close();
  rmSync(folder, { recursive: true, force: true });
}
