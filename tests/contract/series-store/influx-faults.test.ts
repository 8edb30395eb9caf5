import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import {
  type InfluxSender,
  InfluxSeries,
  type InfluxTarget,
  openInfluxSender,
  openSqliteSeries,
  type SeriesRow,
  type SqliteSeries,
} from "@drumlin/gateway/series";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { eventually } from "../../acceptance/gateway-process.ts";
import { gapsOf } from "./gaps-of.ts";
import { startInfluxd } from "./influxd.ts";

const hourMs = 3_600_000;
const series = "reading/press/ec-1[S/m]";
const wallMs = Math.floor(Date.now() / 1000) * 1000;

let influx: Awaited<ReturnType<typeof startInfluxd>>;
let store: SqliteSeries;
let folder: string;
let target: InfluxTarget;
let sender: InfluxSender | null = null;
let said: (string | null)[] = [];
let databases = 0;
/** Each test has days of its own. */
let nowMs = wallMs;

beforeAll(async () => {
  influx = await startInfluxd();
  folder = mkdtempSync(join(tmpdir(), "drumlin-send-"));
  store = await openSqliteSeries({ folder });
});
afterAll(async () => {
  await store.close();
  await influx.remove();
  rmSync(folder, { recursive: true, force: true });
});
afterEach(async () => {
  await sender?.stop();
  sender = null;
  // A test that failed while its database was away takes nothing from those after it.
  await influx.start();
});

/** A database of its own in a store for all. */
async function begin(policy = ""): Promise<void> {
  databases += 1;
  nowMs += 100 * hourMs;
  rmSync(join(folder, "influx-set-aside.json"), { force: true });
  target = { ...influx.target, database: `house-${databases}` };
  await influx.ask(`CREATE DATABASE "${target.database}" ${policy}`);
  said = [];
}

async function send(to = target, isSent: (name: string) => boolean = () => true) {
  sender = await openInfluxSender({
    target: to,
    log: store.log,
    range: (...asked) => store.range(...asked),
    isSent,
    folder,
    steadyMs: () => performance.now(),
    pace: { lookEveryMs: 20, waitMs: () => 20 },
    onChange: (failure) => said.push(failure?.code ?? null),
  });
}

const rowAt = (tMs: number, name = series): SeriesRow => ({ series: name, tMs, value: tMs % 977, flag: 1 });
const rowsFrom = (fromMs: number, count: number, name = series) =>
  Array.from({ length: count }, (_, index) => rowAt(fromMs + 1000 * index, name));

async function store1(rows: readonly SeriesRow[]): Promise<void> {
  for (const row of rows) store.add(row);
  await store.sync();
}

async function rowsThere(name = series): Promise<SeriesRow[]> {
  const found: SeriesRow[] = [];
  for await (const rows of new InfluxSeries(target).range(name, 0, 1e15)) found.push(...rows);
  return found;
}

/** What the database holds, once it has so many rows and nothing waits any more. */
async function arrived(count: number): Promise<SeriesRow[]> {
  const there = await eventually(rowsThere, ({ length }) => length >= count);
  await whole();
  const state = { gaps: gapsOf(there), behind: await store.log.behind("influx"), sender: sender?.state() };
  expect(there, JSON.stringify(state)).toHaveLength(count);
  return there;
}
/** Resolves when the follower is known, and has everything. */
const whole = () =>
  eventually(
    () => store.log.behind("influx"),
    ({ batches, owed }) => batches === 0 && owed === 0,
  );
const fails = (code: string) =>
  eventually(
    async () => (sender as InfluxSender).state().failure?.code ?? null,
    (now) => now === code,
  );

describe("rows sent on to a real InfluxDB 1.x", () => {
  it("all arrive, once; a start goes on where the last one ended; missing values stay missing", async () => {
    await begin();
    await send();
    const rows = [...rowsFrom(nowMs, 200), { series, tMs: nowMs - 1000, value: null, flag: 9 as const }];
    await whole();
    await store1(rows);
    expect(await arrived(201)).toEqual(rows.toSorted((a, b) => a.tMs - b.tMs));
    await sender?.stop();
    await store1(rowsFrom(nowMs + hourMs, 100));
    await send();
    await arrived(301);
    await expect.poll(() => sender?.state().sent).toBe(100);
  });

  it("stopped under load, hours sealed meanwhile: told by name, complete afterwards", async () => {
    await begin();
    await send();
    await whole();
    await influx.stop();
    let count = 0;
    // Later rows seal the hours before them, so that their batches go before they were sent.
    for (let hour = 0; hour < 6; hour += 1) {
      await store1(rowsFrom(nowMs - 10 * hourMs + hour * hourMs, 600));
      count += 600;
    }
    expect(await fails("influx-unreachable")).toBe("influx-unreachable");
    const behind = await eventually(
      () => store.log.behind("influx"),
      ({ batches, owed }) => batches > 0 && owed > 0,
    );
    expect(behind.batches).toBeGreaterThan(0);
    expect(behind.owed).toBeGreaterThan(0);
    expect(
      await eventually(
        async () => (sender as InfluxSender).state().behind.owed,
        (owed) => owed > 0,
      ),
    ).toBeGreaterThan(0);
    await influx.start();
    const there = await arrived(count);
    expect(there[0]).toEqual(rowAt(nowMs - 10 * hourMs));
    await expect.poll(() => said).toEqual(["influx-unreachable", null]);
  });

  it("the question that the README gives finds what is good, and not what was taken back", async () => {
    const readme = readFileSync(new URL("../../../README.md", import.meta.url), "utf8");
    const question = /`(SELECT mean[^`]*)`/.exec(readme)?.[1]?.replaceAll("\n", " ") as string;
    const asked = /"series" = '([^']*)'/.exec(question)?.[1] as string;
    await begin();
    await send();
    await whole();
    const atMs = wallMs - (wallMs % (10 * 60_000)) - 10 * 60_000;
    const at = (second: number, value: number | null, flag: SeriesRow["flag"]) => ({
      series: asked,
      tMs: atMs + 1000 * second,
      value,
      flag,
    });
    await store1([at(1, 10, 1), at(2, 20, 3), at(3, 999, 1)]);
    await whole();
    await store1([at(3, null, 9)]);
    await whole();
    const url = `${target.url}/query?${new URLSearchParams({ db: target.database, epoch: "ms", q: question })}`;
    const { user, password } = target.signIn as { user: string; password: string };
    const authorization = `Basic ${Buffer.from(`${user}:${password}`).toString("base64")}`;
    const { results } = (await (await fetch(url, { headers: { authorization } })).json()) as {
      results: { series: { values: [number, number | null][] }[] }[];
    };
    const means = results[0]?.series[0]?.values.filter(([, mean]) => mean !== null);
    expect(means).toEqual([[atMs, 15]]);
  });

  it("a series that is not for others is passed over, in batches and in stretches, and leaves nothing that waits", async () => {
    await begin();
    const own = "arrival/press";
    const isSent = (name: string) => name !== own;
    await send(target, isSent);
    await whole();
    await store1([
      ...rowsFrom(nowMs, 50),
      ...rowsFrom(nowMs, 70, own),
      ...rowsFrom(nowMs, 30, "flow/a/flow"),
    ]);
    await arrived(50);
    await store1(rowsFrom(nowMs + 100_000, 20, own));
    await whole();
    await expect.poll(() => sender?.state().sent).toBe(80);
    await sender?.stop();
    for (let hour = 1; hour < 4; hour += 1)
      await store1([...rowsFrom(nowMs + hour * hourMs, 60), ...rowsFrom(nowMs + hour * hourMs, 60, own)]);
    const owed = async () => (await store.log.owed("influx", 100)).map(({ series: name }) => name);
    await expect.poll(owed, { timeout: 60_000 }).toContain(own);
    await send(target, isSent);
    expect(await arrived(50 + 3 * 60)).toHaveLength(230);
    expect(await new InfluxSeries(target).names()).toEqual(["flow/a/flow", series]);
    expect(await rowsThere("flow/a/flow")).toEqual(rowsFrom(nowMs, 30, "flow/a/flow"));
  });

  it("killed in mid-write, again and again: complete afterwards", async () => {
    await begin();
    await send();
    await whole();
    let count = 0;
    for (let kill = 0; kill < 3; kill += 1) {
      const before = (sender as InfluxSender).state().sent;
      await store1(rowsFrom(nowMs + count * 1000, 20_000));
      count += 20_000;
      await eventually(
        async () => (sender as InfluxSender).state().sent,
        (sent) => sent > before,
      );
      await influx.kill();
      await influx.start();
    }
    await arrived(count);
  });

  it("a wrong password is told at once; once it is right, everything is sent", async () => {
    await begin();
    await influx.ask("CREATE USER other WITH PASSWORD 'first' WITH ALL PRIVILEGES");
    await send({
      ...target,
      signIn: { kind: "password", user: "other", password: "second" },
    });
    expect(await fails("influx-unauthorised")).toBe("influx-unauthorised");
    await store1(rowsFrom(nowMs, 50));
    expect(await fails("influx-unauthorised")).toBe("influx-unauthorised");
    expect(JSON.stringify((sender as InfluxSender).state())).not.toContain("second");
    await influx.ask("SET PASSWORD FOR other = 'second'");
    await arrived(50);
  });

  it("no such database, and one that is dropped: told by name; once it is there, what is owed is sent", async () => {
    await begin();
    await influx.ask(`DROP DATABASE "${target.database}"`);
    await send();
    expect(await fails("influx-no-database")).toBe("influx-no-database");
    await store1(rowsFrom(nowMs, 50));
    expect(await fails("influx-no-database")).toBe("influx-no-database");
    await influx.ask(`CREATE DATABASE "${target.database}"`);
    await arrived(50);
    await influx.ask(`DROP DATABASE "${target.database}"`);
    await store1(rowsFrom(nowMs + hourMs, 50));
    expect(await fails("influx-no-database")).toBe("influx-no-database");
    await influx.ask(`CREATE DATABASE "${target.database}"`);
    await arrived(50);
  });

  it("a type that another client planted: those points are set aside and counted, the others arrive, over a restart too", async () => {
    await begin();
    const planted = `flow,series=planted v=1i ${nowMs}`;
    const write = new URL(`/write?db=${target.database}&precision=ms`, target.url);
    const authorization = `Basic ${Buffer.from(`keeper:${(target.signIn as { password: string }).password}`).toString("base64")}`;
    expect((await fetch(write, { method: "POST", headers: { authorization }, body: planted })).status).toBe(
      204,
    );
    await send();
    await whole();
    await store1([...rowsFrom(nowMs, 100), ...rowsFrom(nowMs, 40, "flow/after-resin/flow")]);
    await arrived(100);
    expect(await rowsThere("flow/after-resin/flow")).toEqual([]);
    const aside = [
      expect.objectContaining({
        code: "influx-type-conflict",
        measurement: "flow",
        points: 40,
        fromMs: nowMs,
        toMs: nowMs + 39_000,
        example: `flow,series=flow/after-resin/flow v=${nowMs % 977},q=1i ${nowMs}`,
      }),
    ];
    await expect
      .poll(() => (sender as InfluxSender).state())
      .toMatchObject({ failure: null, sent: 100, aside });
    await sender?.stop();
    await send();
    await expect.poll(() => (sender as InfluxSender).state().aside).toEqual(aside);
  });

  it("older than the database keeps: those are set aside by name, the others arrive", async () => {
    await begin("WITH DURATION 1h SHARD DURATION 1h");
    await send();
    await whole();
    const fromMs = wallMs - 5 * hourMs;
    await store1([...rowsFrom(fromMs, 70), ...rowsFrom(wallMs - 60_000, 30)]);
    await arrived(30);
    await expect
      .poll(() => (sender as InfluxSender).state().aside)
      .toEqual([expect.objectContaining({ code: "influx-outside-retention", points: 70, fromMs })]);
  });
});
