// A year of ten channels at 5 s, made straight through the store: bytes a reading by tier, start to ready, charts.
import { existsSync, renameSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openSqliteSeries, type SqliteSeries } from "@drumlin/gateway/series";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { figure } from "./figures.ts";

const dayMs = 86_400_000;
const periodMs = 5000;
const beginMs = Date.UTC(2025, 10, 1);

/** How a channel goes: a slow wave, a ripple, noise of a few steps; or a float. */
interface Channel {
  readonly series: string;
  readonly decimals: number;
  readonly valueAt: (tMs: number, noise: number) => number;
}

const wave = (tMs: number, periodDays: number) => Math.sin((2 * Math.PI * tMs) / (periodDays * dayMs));
/** Conductivity, temperature, level, flow and floats of a house, with the resolution of cheap probes. */
const channels: readonly Channel[] = [
  {
    series: "reading/press/ec-1[S/m]",
    decimals: 6,
    valueAt: (t, n) => 0.0412 + 0.002 * wave(t, 30) + 2e-5 * n,
  },
  {
    series: "reading/press/ec-2[S/m]",
    decimals: 7,
    valueAt: (t, n) => 0.00006 + 0.00003 * wave(t, 9) + 1e-6 * n,
  },
  {
    series: "reading/press/ec-3[S/m]",
    decimals: 6,
    valueAt: (t, n) => 0.0391 + 0.002 * wave(t, 31) + 2e-5 * n,
  },
  {
    series: "reading/press/t-1[Cel]",
    decimals: 2,
    valueAt: (t, n) => 14 + 5 * wave(t, 365) + wave(t, 1) + 0.03 * n,
  },
  {
    series: "reading/press/t-2[Cel]",
    decimals: 2,
    valueAt: (t, n) => 15 + 5 * wave(t, 365) + wave(t, 1) + 0.03 * n,
  },
  {
    series: "reading/press/flow-1[m3/s]",
    decimals: 7,
    valueAt: (t, n) => (wave(t, 1) > 0.8 ? 4.2e-5 + 5e-7 * n : 0),
  },
  { series: "reading/drums/level-1[m]", decimals: 3, valueAt: (t, n) => 0.7 + 0.2 * wave(t, 1) + 0.001 * n },
  { series: "reading/drums/level-2[m]", decimals: 3, valueAt: (t, n) => 0.6 + 0.3 * wave(t, 2) + 0.001 * n },
  { series: "reading/drums/float-1", decimals: 0, valueAt: (t) => (wave(t, 1) > 0.7 ? 1 : 0) },
  // What compensation gives has as many digits as a double holds.
  {
    series: "point/supply/conductivity25",
    decimals: 17,
    valueAt: (t, n) => 412 * (1 + 0.04 * wave(t, 30)) + 0.2 * n,
  },
];

async function fill(store: SqliteSeries, days: number): Promise<number> {
  let state = 1;
  let rows = 0;
  for (let day = 0; day < days; day += 1) {
    for (let at = 0; at < dayMs; at += periodMs) {
      const tMs = beginMs + day * dayMs + at;
      for (const { series, decimals, valueAt } of channels) {
        // Numerical Recipes' quick generator (from memory); noise of −2 to 2 steps, mostly 0.
        state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
        const noise = Math.round((((state >>> 8) & 1023) + ((state >>> 18) & 1023) - 1023) / 512);
        const exact = valueAt(tMs, noise);
        const value = decimals > 12 ? exact : Number(exact.toFixed(decimals));
        store.add({ series, tMs, value, flag: 1 });
        rows += 1;
      }
    }
    await store.sync();
  }
  return rows;
}

function bytesByTier(path: string) {
  const database = new DatabaseSync(path, { readOnly: true });
  const of = (table: string, rows: string) =>
    database
      .prepare(`SELECT coalesce(sum(length(data)), 0) AS bytes, coalesce(sum(${rows}), 0) AS n FROM ${table}`)
      .get() as { bytes: number; n: number };
  const derived = database
    .prepare(
      "SELECT sum(length(b.data)) AS bytes, sum(b.rows) AS n FROM block b JOIN series s ON s.id = b.series WHERE s.name LIKE 'point/%'",
    )
    .get() as { bytes: number; n: number };
  const [batches, blocks, minutes, hours] = [
    of("part", "rows"),
    of("block", "rows"),
    of("minutes", "1"),
    of("hours", "1"),
  ];
  database.close();
  return { batches, blocks, minutes, hours, derived };
}

async function timed<Result>(work: () => Promise<Result>): Promise<{ ms: number; result: Result }> {
  const begun = performance.now();
  const result = await work();
  return { ms: performance.now() - begun, result };
}

async function medianMs(work: () => Promise<unknown>, runs = 7): Promise<number> {
  const times: number[] = [];
  for (let run = 0; run < runs; run += 1) times.push((await timed(work)).ms);
  return times.sort((a, b) => a - b)[runs >> 1] as number;
}

/** A site with the year in its store. DRUMLIN_YEAR names a folder in which one lies already, or is made and kept. */
async function siteWithYear(days: number): Promise<{ readonly line: string; readonly data: string }> {
  const kept = process.env.DRUMLIN_YEAR;
  if (kept && existsSync(join(kept, "data")))
    return { line: join(kept, "line.yaml"), data: join(kept, "data") };
  const site = await newSite(["press", "drums"]);
  const store = await openSqliteSeries({ folder: site.data });
  const cpuBefore = process.cpuUsage();
  const { ms, result: rows } = await timed(() => fill(store, days));
  await store.close();
  const cpu = process.cpuUsage(cpuBefore);
  console.log(`${rows} rows of ${channels.length} series in ${(ms / 1000).toFixed(0)} s`);
  figure("storeCpuMicrosecondsPerRow", (cpu.user + cpu.system) / rows, "us", "with making the values");
  if (!kept) return site;
  renameSync(site.folder, kept);
  return { line: join(kept, "line.yaml"), data: join(kept, "data") };
}

/** Makes the year (DRUMLIN_DAYS for a shorter one) and tells what it costs. */
export async function yearOfSeries(): Promise<void> {
  const days = Number(process.env.DRUMLIN_DAYS ?? 365);
  const site = await siteWithYear(days);
  const folder = site.data;
  const rows = (days * channels.length * dayMs) / periodMs;
  const path = join(folder, "series.sqlite");
  const { batches, blocks, minutes, hours, derived } = bytesByTier(path);
  figure("bytesPerBatchReading", batches.bytes / Math.max(1, batches.n), "By", "in batches, not sealed yet");
  figure(
    "bytesPerSealedReading",
    (blocks.bytes + minutes.bytes + hours.bytes) / blocks.n,
    "By",
    "with roll-ups",
  );
  figure("bytesPerSealedReadingRows", blocks.bytes / blocks.n, "By", "the rows");
  figure("bytesPerSealedReadingMinutes", minutes.bytes / blocks.n, "By", "roll-ups of minutes");
  figure("bytesPerSealedReadingHours", hours.bytes / blocks.n, "By", "roll-ups of hours");
  figure(
    "bytesPerSealedDecimalReading",
    (blocks.bytes - derived.bytes) / (blocks.n - derived.n),
    "By",
    "rows as nodes say them",
  );
  figure("bytesPerSealedDerivedReading", derived.bytes / derived.n, "By", "rows with all digits of a double");
  figure("bytesPerReadingOnDisk", statSync(path).size / rows, "By", "the whole file");

  const opened = await timed(() => openSqliteSeries({ folder }));
  const store = opened.result;
  figure("openStoreMs", opened.ms, "ms", "the store alone");
  const endMs = beginMs + days * dayMs;
  const series = channels[0]?.series as string;
  figure(
    "yearBucketsFirstMs",
    (await timed(() => store.buckets(series, beginMs, endMs, 1000))).ms,
    "ms",
    "a year in 1,000 buckets, the first time",
  );
  figure(
    "yearBucketsMs",
    await medianMs(() => store.buckets(series, beginMs, endMs, 1000)),
    "ms",
    "a year in 1,000 buckets, median of 7",
  );
  const dayFrom = beginMs + Math.floor(days / 2) * dayMs;
  const rawDay = async () => {
    let count = 0;
    for await (const some of store.range(series, dayFrom, dayFrom + dayMs)) count += some.length;
    if (count !== dayMs / periodMs) throw new Error(`a day has ${count} rows`);
  };
  figure("dayRawMs", await medianMs(rawDay), "ms", "17,280 rows, median of 7");
  figure(
    "monthBucketsMs",
    await medianMs(() => store.buckets(series, endMs - 30 * dayMs, endMs, 800)),
    "ms",
    "a month in 800 buckets, median of 7",
  );
  const replayed = await timed(async () => {
    let count = 0;
    for await (const some of store.range(series, endMs - Math.min(days, 30) * dayMs, endMs))
      count += some.length;
    return count;
  });
  figure(
    "rangeRowsPerSecond",
    (replayed.result / replayed.ms) * 1000,
    "1/s",
    "rows of one series read as they are",
  );
  await store.close();
  const starts: number[] = [];
  for (let run = 0; run < 3; run += 1) {
    const started = await timed(() => startProcess(site));
    starts.push(started.ms);
    await started.result.stop();
  }
  figure(
    "startWithYearMs",
    starts.sort((a, b) => a - b)[1] as number,
    "ms",
    "gateway with the year in its folder, median of 3",
  );
  if (!process.env.DRUMLIN_YEAR) rmSync(folder, { recursive: true, force: true });
}
