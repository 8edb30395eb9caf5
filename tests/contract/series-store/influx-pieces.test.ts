// The thread that writes to InfluxDB, alone with a real one: batches of more lines than one request takes.
import { once } from "node:events";
import { Worker } from "node:worker_threads";
import type { InfluxTarget, SeriesRow } from "@drumlin/gateway/series";
import { InfluxSeries } from "@drumlin/gateway/series";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { InfluxAnswer } from "../../../gateway/src/series/influx/requests.ts";
import { rowsAsBatch } from "../../../gateway/src/series/influx/rows-as-batch.ts";
import { holdingWay } from "./holding-way.ts";
import { startInfluxd } from "./influxd.ts";

const hourMs = 3_600_000;
const names = ["reading/press/ec-1[S/m]", "point/supply/flow"] as const;
const nowMs = Math.floor(Date.now() / 1000) * 1000;
const script = new URL("../../../gateway/src/series/influx/influx-worker.ts", import.meta.url);

let influx: Awaited<ReturnType<typeof startInfluxd>>;
let databases = 0;
beforeAll(async () => {
  influx = await startInfluxd();
});
afterAll(() => influx.remove());

/** A database that keeps two days. */
async function database(): Promise<InfluxTarget> {
  databases += 1;
  const target = { ...influx.target, database: `pieces-${databases}` };
  await influx.ask(`CREATE DATABASE "${target.database}" WITH DURATION 2d`);
  return target;
}

async function writes(target: InfluxTarget, rows: readonly SeriesRow[], from = 0): Promise<InfluxAnswer> {
  const worker = new Worker(script, { workerData: { target } });
  try {
    await once(worker, "message");
    worker.postMessage({ id: 7, type: "write", batch: rowsAsBatch(rows), from });
    const [answer] = (await once(worker, "message")) as [{ id: number; value: InfluxAnswer }];
    expect(answer.id).toBe(7);
    return answer.value;
  } finally {
    await worker.terminate();
  }
}

async function there(target: InfluxTarget): Promise<SeriesRow[]> {
  const found: SeriesRow[] = [];
  for (const name of names)
    for await (const some of new InfluxSeries(target).range(name, 0, 1e15)) found.push(...some);
  return found;
}

/** 12,000 rows, each third of another series, each with a value and a flag of its own; those at some places are from a month ago. */
function given(tooOld: readonly number[]): SeriesRow[] {
  return Array.from({ length: 12_000 }, (_, place) => ({
    series: names[place % 3 === 0 ? 1 : 0],
    tMs: nowMs - 20 * hourMs + place * 1000 - (tooOld.includes(place) ? 720 * hourMs : 0),
    value: place % 7 === 3 ? null : place / 8,
    flag: place % 7 === 3 ? 9 : place % 5 === 0 ? 3 : 1,
  }));
}
const inOrder = (rows: readonly SeriesRow[]) =>
  names.flatMap((name) => rows.filter((row) => row.series === name).toSorted((a, b) => a.tMs - b.tMs));

it("points that are too old in its second and third request are set aside, each once; all others are there as they were", async () => {
  const target = await database();
  const tooOld = [5003, 7004, 9999, 11_998];
  const rows = given(tooOld);
  const answer = await writes(target, rows);
  expect(answer).toMatchObject({ written: 12_000, inDoubt: [], failure: null });
  // By measurement: of these places only 9,999 is of the second series.
  const at = (place: number) => rows[place]?.tMs;
  expect(
    answer.aside
      .map(({ code, measurement, points, fromMs, toMs }) => [measurement, code, points, fromMs, toMs])
      .sort(),
  ).toEqual([
    ["point", "influx-outside-retention", 1, at(9999), at(9999)],
    ["reading", "influx-outside-retention", 3, at(5003), at(11_998)],
  ]);
  expect(await there(target)).toEqual(inOrder(rows.filter((_, place) => !tooOld.includes(place))));
});

it("from its middle on, what lies before is not written, nor set aside", async () => {
  const target = await database();
  const rows = given([10, 7100]);
  const answer = await writes(target, rows, 6000);
  expect(answer).toMatchObject({ written: 12_000, inDoubt: [], failure: null });
  expect(answer.aside.reduce((sum, { points }) => sum + points, 0)).toBe(1);
  expect(await there(target)).toEqual(inOrder(rows.filter((_, place) => place >= 6000 && place !== 7100)));
});

it("a way that breaks in its second request: only the first is there for sure, what may come late is told by its rows", async () => {
  const target = await database();
  const way = await holdingWay(target.url);
  const rows = given([4]);
  try {
    way.keepWith(` ${rows[5001]?.tMs}`);
    const broken = await writes({ ...target, url: way.url }, rows);
    expect(broken.failure?.code).toBe("influx-unreachable");
    expect(broken.written).toBe(5000);
    expect(broken.aside.map(({ points, fromMs }) => [points, fromMs])).toEqual([[1, rows[4]?.tMs]]);
    expect(broken.inDoubt).toEqual([[5000, 10_000]]);
    // By then the third one, which was under way with it, is over.
    const sure = new Set((await there(target)).map(({ tMs }) => tMs));
    expect(rows.slice(0, 5000).filter(({ tMs }) => !sure.has(tMs))).toEqual([rows[4]]);
    expect(rows.slice(5000, 10_000).some(({ tMs }) => sure.has(tMs))).toBe(false);
    way.keepWith("nothing that is written");
    await way.letGo();
    const again = await writes({ ...target, url: way.url }, rows, broken.written);
    expect([again.written, again.aside, again.failure]).toEqual([12_000, [], null]);
    expect(await there(target)).toEqual(inOrder(rows.filter((_, place) => place !== 4)));
  } finally {
    way.close();
  }
});

it("a server that is not there: nothing is in doubt where no connection came about", async () => {
  const answer = await writes({ ...influx.target, url: "http://127.0.0.1:9", database: "none" }, given([]));
  expect(answer).toMatchObject({ written: 0, aside: [], inDoubt: [] });
  expect(answer.failure?.code).toBe("influx-unreachable");
});
