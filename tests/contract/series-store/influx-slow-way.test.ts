import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { InfluxSeries, openInfluxSender, openSqliteSeries } from "@drumlin/gateway/series";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually } from "../../acceptance/gateway-process.ts";
import { startInfluxd } from "./influxd.ts";
import { roughWay } from "./rough-way.ts";

const series = "reading/press/ec-1[S/m]";

let influx: Awaited<ReturnType<typeof startInfluxd>>;
let folder: string;
beforeAll(async () => {
  influx = await startInfluxd();
  folder = mkdtempSync(join(tmpdir(), "drumlin-slow-"));
});
afterAll(async () => {
  await influx.remove();
  rmSync(folder, { recursive: true, force: true });
});

it("a way on which no request of 5,000 lines is answered in time: all comes through in shorter ones, and is counted as it comes", async () => {
  const store = await openSqliteSeries({ folder });
  const way = await roughWay(Number(new URL(influx.target.url).port));
  const sender = await openInfluxSender({
    target: { ...influx.target, url: way.url },
    log: store.log,
    range: (...asked) => store.range(...asked),
    folder,
    steadyMs: () => performance.now(),
    pace: { lookEveryMs: 20, waitMs: () => 100 },
    withinMs: 600,
    onChange: () => {},
  });
  const whole = () =>
    eventually(
      () => store.log.behind("influx"),
      ({ batches, owed }) => batches === 0 && owed === 0,
    );
  await whole();
  way.slowTo(200_000);
  const count = 12_000;
  const beginMs = Date.now() - 600_000;
  const valueAt = (place: number) => ((place * 7919) % 1009) / 7;
  for (let place = 0; place < count; place += 1)
    store.add({ series, tMs: beginMs + place, value: valueAt(place), flag: 1 });
  await store.sync();
  // Some of the batch is there long before all of it is.
  const some = await eventually(
    async () => sender.state(),
    ({ sent }) => sent > 0,
  );
  expect(some.sent).toBeLessThan(count);
  expect(some.behind.batches).toBe(1);
  await whole();
  await expect.poll(() => sender.state()).toMatchObject({ failure: null, sent: count, aside: [] });
  await sender.stop();
  await store.close();
  way.close();
  const found: (number | null)[] = [];
  for await (const rows of new InfluxSeries(influx.target).range(series, 0, 1e15))
    for (const { value } of rows) found.push(value);
  expect(found).toEqual(Array.from({ length: count }, (_, place) => valueAt(place)));
});
