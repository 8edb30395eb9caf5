import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import {
  type InfluxSender,
  InfluxSeries,
  openInfluxSender,
  openSqliteSeries,
  type SqliteSeries,
} from "@drumlin/gateway/series";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { eventually } from "../../acceptance/gateway-process.ts";
import { holdingWay } from "./holding-way.ts";
import { startInfluxd } from "./influxd.ts";

const series = "reading/press/ec-1[S/m]";
const beginMs = Math.floor(Date.now() / 1000) * 1000 - 600_000;
const count = 40;
const rowsOf = (version: number) =>
  Array.from({ length: count }, (_, second) => ({
    series,
    tMs: beginMs + 1000 * second,
    value: 100 * version + second,
    flag: 1 as const,
  }));

describe("a write that got no answer, and is stored by a real InfluxDB 1.x only after a newer one", () => {
  let influx: Awaited<ReturnType<typeof startInfluxd>>;
  let way: Awaited<ReturnType<typeof holdingWay>>;
  let folder: string;
  let store: SqliteSeries;
  let sender: InfluxSender;
  let aheadMs = 0;
  beforeAll(async () => {
    influx = await startInfluxd();
  });
  afterAll(() => influx.remove());
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), "drumlin-late-"));
    store = await openSqliteSeries({ folder });
    way = await holdingWay(influx.target.url);
    await influx.ask("DROP DATABASE drumlin");
    await influx.ask("CREATE DATABASE drumlin");
  });
  afterEach(async () => {
    await sender.stop();
    await store.close();
    way.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const open = async () => {
    sender = await openInfluxSender({
      target: { ...influx.target, url: way.url },
      log: store.log,
      range: (...asked) => store.range(...asked),
      folder,
      steadyMs: () => performance.now() + aheadMs,
      pace: { lookEveryMs: 20, waitMs: () => 20 },
      onChange: () => {},
    });
  };
  const put = async (version: number) => {
    for (const row of rowsOf(version)) store.add(row);
    await store.sync();
  };
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

  /** Version 1 is held on its way, and sent again; version 2 is sent; then the held one comes. */
  async function overwritten() {
    await open();
    way.keep(1);
    await put(1);
    await expect.poll(() => way.held()).toBe(1);
    await whole();
    expect(await there()).toEqual(rowsOf(1));
    await put(2);
    await whole();
    expect(await there()).toEqual(rowsOf(2));
  }

  it("the newest stands again once nothing late can come any more", async () => {
    await overwritten();
    await way.letGo();
    // What this is about: the server took the old one for the latest.
    expect(await there()).toEqual(rowsOf(1));
    aheadMs += 301_000;
    await expect.poll(there).toEqual(rowsOf(2));
    await whole();
    const { sent } = sender.state();
    aheadMs += 301_000;
    await expect.poll(() => sender.state().behind.sinceMs).toBeNull();
    expect(sender.state().sent).toBe(sent);
  });

  it("so it does when the gateway was started again meanwhile", async () => {
    await overwritten();
    await sender.stop();
    await way.letGo();
    await open();
    expect(await there()).toEqual(rowsOf(1));
    aheadMs += 301_000;
    await expect.poll(there).toEqual(rowsOf(2));
  });

  it("a server that refused the connection can't have it: nothing is sent twice", async () => {
    const { url } = way;
    way.close();
    way = { ...way, url: influx.target.url };
    await open();
    // It was there at the start: what is refused is a write, and not the first question.
    await expect.poll(() => sender.state().failure).toBeNull();
    await influx.stop();
    await put(1);
    await expect.poll(() => sender.state().failure?.tries ?? 0).toBeGreaterThan(3);
    await influx.start();
    await whole();
    await expect.poll(() => sender.state().sent).toBe(count);
    aheadMs += 301_000;
    await put(2);
    await whole();
    await expect.poll(() => sender.state().sent).toBe(2 * count);
    way = { ...way, url };
  });
});
