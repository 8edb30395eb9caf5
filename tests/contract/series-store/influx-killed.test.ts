import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { InfluxSeries, openInfluxSender, openSqliteSeries } from "@drumlin/gateway/series";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually } from "../../acceptance/gateway-process.ts";
import { holdingWay } from "./holding-way.ts";
import { startInfluxd } from "./influxd.ts";

const program = fileURLToPath(new URL("./influx-killed-sender.ts", import.meta.url));
const series = "reading/press/ec-1[S/m]";
const beginMs = Math.floor(Date.now() / 1000) * 1000 - 600_000;
const rowsOf = (version: number) =>
  Array.from({ length: 40 }, (_, second) => ({
    ...{ series, tMs: beginMs + 1000 * second, value: 100 * version + second, flag: 1 as const },
  }));

let influx: Awaited<ReturnType<typeof startInfluxd>>;
let folder: string;
let child: ChildProcess | null = null;
beforeAll(async () => {
  influx = await startInfluxd();
  folder = mkdtempSync(join(tmpdir(), "drumlin-killed-"));
});
afterAll(async () => {
  child?.kill("SIGKILL");
  await influx.remove();
  rmSync(folder, { recursive: true, force: true });
});

it("killed in the middle of a write that is stored only after a newer one: the newest stands again after five minutes", async () => {
  const way = await holdingWay(influx.target.url, false);
  const target = { ...influx.target, url: way.url };
  way.keep(1);
  child = spawn(process.execPath, [program, folder, JSON.stringify(target), JSON.stringify(rowsOf(1))], {
    stdio: "ignore",
  });
  const ended = new Promise<void>((resolve) => child?.once("exit", () => resolve()));
  await expect.poll(way.held, { timeout: 30_000 }).toBe(1);
  // It is there before the write goes out, not only by the time that this one has come.
  expect(JSON.parse(readFileSync(join(folder, "influx-in-doubt.json"), "utf8"))).toEqual([
    { series, fromMs: beginMs, toMs: beginMs + 39_001 },
  ]);
  child.kill("SIGKILL");
  await ended;

  let aheadMs = 0;
  const store = await openSqliteSeries({ folder });
  const sender = await openInfluxSender({
    target,
    log: store.log,
    range: (...asked) => store.range(...asked),
    folder,
    steadyMs: () => performance.now() + aheadMs,
    pace: { lookEveryMs: 20, waitMs: () => 20 },
    onChange: () => {},
  });
  const there = async () => {
    const found = [];
    for await (const rows of new InfluxSeries(influx.target).range(series, 0, 1e15)) found.push(...rows);
    return found;
  };
  const whole = () =>
    eventually(
      () => store.log.behind("influx"),
      ({ batches, owed }) => batches === 0 && owed === 0,
    );
  await whole();
  expect(await there()).toEqual(rowsOf(1));
  for (const row of rowsOf(2)) store.add(row);
  await store.sync();
  await whole();
  expect(await there()).toEqual(rowsOf(2));
  await way.letGo();
  // What this is about: the server took the old one for the latest.
  expect(await there()).toEqual(rowsOf(1));
  aheadMs += 301_000;
  await expect.poll(there).toEqual(rowsOf(2));
  await whole();
  await sender.stop();
  // Ended as it should be, it leaves nothing to send again.
  expect(JSON.parse(readFileSync(join(folder, "influx-in-doubt.json"), "utf8"))).toEqual([]);
  await store.close();
  way.close();
}, 90_000);
