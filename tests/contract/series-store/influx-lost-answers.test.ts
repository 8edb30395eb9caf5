import { mkdtempSync, rmSync } from "node:fs";
import { createServer, request } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { InfluxSeries, openInfluxSender, openSqliteSeries } from "@drumlin/gateway/series";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually } from "../../acceptance/gateway-process.ts";
import { startInfluxd } from "./influxd.ts";

const series = "reading/press/ec-1[S/m]";
const rowsPerHour = 3600;

let influx: Awaited<ReturnType<typeof startInfluxd>>;
let folder: string;
beforeAll(async () => {
  influx = await startInfluxd();
  folder = mkdtempSync(join(tmpdir(), "drumlin-lost-"));
});
afterAll(async () => {
  await influx.remove();
  rmSync(folder, { recursive: true, force: true });
});

/** Stands before a server: of writes, every one of which the number is in `loses` is stored, and its answer is lost. */
async function lossyWay(url: string, loses: (write: number) => boolean) {
  const { hostname, port } = new URL(url);
  const seen = { writes: 0, lost: 0 };
  const server = createServer((asked, answer) => {
    const { method, headers, url: path = "/" } = asked;
    const onward = request({ hostname, port, method, headers, path }, (said) => {
      const isLost = path.startsWith("/write") && loses(seen.writes++);
      if (isLost) {
        seen.lost += 1;
        said.resume().on("end", () => asked.socket.destroy());
        return;
      }
      answer.writeHead(said.statusCode ?? 500, said.headers);
      said.pipe(answer);
    });
    onward.on("error", () => asked.socket.destroy());
    asked.pipe(onward);
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const url2 = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return { url: url2, seen, close: () => server.closeAllConnections() ?? server.close() };
}

it("150,000 rows sealed while nobody followed, sent over a way on which two answers of three are lost: complete, once", async () => {
  const store = await openSqliteSeries({ folder });
  const way = await lossyWay(influx.target.url, (write) => write % 3 !== 2);
  const open = () =>
    openInfluxSender({
      target: { ...influx.target, url: way.url },
      log: store.log,
      range: (...asked) => store.range(...asked),
      folder,
      steadyMs: () => performance.now(),
      pace: { lookEveryMs: 20, waitMs: () => 5 },
      onChange: () => {},
    });
  // The follower is known from here on, and away while the hours are sealed.
  await (await open()).stop();
  const count = 150_000;
  const beginMs = Math.floor(Date.now() / 1000 - count) * 1000;
  const valueAt = (place: number) => (place * 7919) % 1009;
  for (let from = 0; from < count; from += rowsPerHour) {
    for (let place = from; place < Math.min(count, from + rowsPerHour); place += 1)
      store.add({ series, tMs: beginMs + place * 1000, value: valueAt(place), flag: 1 });
    await store.sync();
  }
  const sender = await open();
  await eventually(
    () => store.log.behind("influx"),
    ({ batches, owed }) => batches === 0 && owed === 0,
    200_000,
  );
  await sender.stop();
  await store.close();
  way.close();

  let place = 0;
  for await (const rows of new InfluxSeries(influx.target).range(series, 0, 1e15))
    for (const { tMs, value } of rows) {
      if (tMs !== beginMs + place * 1000 || value !== valueAt(place))
        expect([place, tMs, value]).toEqual([place, beginMs + place * 1000, valueAt(place)]);
      place += 1;
    }
  expect(place).toBe(count);
  expect(way.seen.lost).toBeGreaterThan(count / 5000);
  // Each piece goes again until its answer comes, and no more often.
  expect(way.seen.writes).toBeLessThan(12 * (count / 5000));
});
