import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import {
  InfluxSeries,
  openInfluxSender,
  openSqliteSeries,
  type SeriesRow,
  type SqliteSeries,
} from "@drumlin/gateway/series";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually } from "../../acceptance/gateway-process.ts";
import { holdingWay } from "./holding-way.ts";
import { startInfluxd } from "./influxd.ts";

const names = ["reading/press/ec-1[S/m]", "point/supply/conductivity25"];
const beginMs = Math.floor(Date.now() / 1000) * 1000 - 40_000_000;
/** More than two requests, and a last one under the size from which on one is gzipped. */
const rowsOfEach = 6002;
const rows: readonly SeriesRow[] = names.flatMap((series) =>
  Array.from({ length: rowsOfEach }, (_, at) =>
    at % 500 === 3
      ? { series, tMs: beginMs + at * 1000, value: null, flag: 9 as const }
      : { series, tMs: beginMs + at * 1000, value: (at % 977) / 7, flag: 1 as const },
  ),
);

let influx: Awaited<ReturnType<typeof startInfluxd>>;
let way: Awaited<ReturnType<typeof holdingWay>>;
let folder: string;
let store: SqliteSeries;

beforeAll(async () => {
  influx = await startInfluxd();
  way = await holdingWay(influx.target.url);
  folder = mkdtempSync(join(tmpdir(), "drumlin-gzipped-"));
  store = await openSqliteSeries({ folder });
});
afterAll(async () => {
  await store.close();
  way.close();
  await influx.remove();
  rmSync(folder, { recursive: true, force: true });
});

it("to a server that is not on this machine points go gzipped, and a real InfluxDB 1.x has each as it stands here", async () => {
  // Linux leads this address to this machine; that it is this one is not known of it.
  const target = { ...influx.target, url: way.url.replace("127.0.0.1", "0.0.0.0") };
  const sender = await openInfluxSender({
    target,
    log: store.log,
    range: (...asked) => store.range(...asked),
    folder,
    steadyMs: () => performance.now(),
    pace: { lookEveryMs: 20, waitMs: () => 20 },
    onChange: () => {},
  });
  for (const row of rows) store.add(row);
  await store.sync();
  await eventually(
    () => store.log.behind("influx"),
    ({ batches, owed }) => batches === 0 && owed === 0,
  );
  await sender.stop();
  for (const name of names) {
    const there: SeriesRow[] = [];
    for await (const some of new InfluxSeries(influx.target).range(name, 0, 1e15)) there.push(...some);
    expect(there).toEqual(rows.filter(({ series }) => series === name));
  }
  expect(way.gzipped()).toBeGreaterThan(1);
});
