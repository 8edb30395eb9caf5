import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { connectAsync, type MqttClient } from "mqtt";
import { expect, it } from "vitest";
import { eventually, newSite, startProcess } from "./gateway-process.ts";
import { testLine } from "./line-bench.ts";

/** A minute passes in a second. */
const speed = 60;
const preload = new URL("./fake-clock.mjs", import.meta.url).href;
const hourMs = 3_600_000;
const yearMs = 365 * 24 * hourMs;

/** A gateway whose machine's clock can be set, and its node: a pack each 5 s of its own time, each told from every other. */
async function house() {
  const site = await newSite(["press"], testLine);
  const file = join(site.folder, "clock");
  let offsetMs = 0;
  const beganMs = Date.now();
  const setClock = (byMs: number) => {
    offsetMs += byMs;
    writeFileSync(file, `${offsetMs} ${speed}`);
  };
  setClock(0);
  const start = async () => {
    const gateway = await startProcess(site, [], {
      nodeArguments: ["--import", preload],
      env: { TEST_CLOCK_FILE: file },
    });
    const client = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
      username: "press",
      password: site.secrets.press as string,
    });
    return { gateway, client };
  };
  const acknowledged: number[] = [];
  let sent = 0;
  const upS = () => ((Date.now() - beganMs) / 1000) * speed;
  /** Water for so many minutes: κ after resin in uS/cm, 2.5 L/min. */
  async function water(client: MqttClient, minutes: number, kappa: number): Promise<void> {
    const untilS = upS() + minutes * 60;
    for (let next = upS(); next < untilS; next += 5) {
      while (upS() < next) await new Promise((resolve) => setTimeout(resolve, 5));
      sent += 1;
      const number = sent;
      const pack = [
        { boot: 3, seq: number, up: upS(), n: "ec-1", u: "S/m", v: 0.03 + number * 1e-6 },
        { n: "t-1", u: "Cel", v: 25 },
        { n: "t-2", u: "Cel", v: 25 },
        { n: "ec-2", u: "S/m", v: kappa * 1e-4 },
        { n: "flow-1", u: "m3/s", v: 2.5 / 60_000 },
      ];
      await client.publishAsync("drumlin/1/saltmarsh-house/press/readings", JSON.stringify(pack), { qos: 1 });
      acknowledged.push(number);
    }
  }
  return { ...site, start, setClock, water, acknowledged };
}

interface Changes {
  readonly items: readonly { readonly at: string; readonly to: string; readonly why: string }[];
}
interface Now {
  readonly now: string;
  readonly points: readonly { readonly conductivity25: { readonly value: number | null } }[];
}

it("a clock set back an hour, forward a year and back, and over restarts: every value is stored, spent resin is told, dates follow", async () => {
  const { data, start, setClock, water, acknowledged } = await house();
  let { gateway, client } = await start();
  await water(client, 3, 0.5);

  setClock(-hourMs);
  await water(client, 20, 100);
  const raised = await eventually(
    () => gateway.json<Changes>("/api/alarms/journal"),
    ({ items }) => items.some(({ why }) => why.startsWith("raised")),
  );
  expect(raised.items.map(({ why }) => why)).toContain("raised-gross");
  await expect.poll(gateway.printed).toContain("clock: this machine's clock was set back by 60 min");
  await water(client, 6, 0.5);

  setClock(yearMs);
  await water(client, 3, 0.5);
  expect(new Date((await gateway.json<Now>("/api/line")).now).getTime()).toBeGreaterThan(
    Date.now() + yearMs - 3 * hourMs,
  );
  setClock(-yearMs);
  await water(client, 4, 0.5);
  const { now } = await gateway.json<Now>("/api/line");
  expect(Math.abs(Date.parse(now) - Date.now())).toBeLessThan(yearMs / 2);

  /** Water goes on until it is seen: what is not followed is gone after a minute, a second here. */
  const sees = async (kappa: number) => {
    let isSeen = false;
    const looking = eventually(
      () => gateway.json<Now>("/api/line"),
      ({ points }) => Math.abs((points[1]?.conductivity25.value ?? 0) - kappa) < 1,
    ).finally(() => {
      isSeen = true;
    });
    while (!isSeen) await water(client, 0.5, kappa);
    return (await looking).points[1]?.conductivity25.value;
  };
  // While it runs: what comes is seen as it comes, whatever the clock says.
  for (const byMs of [-20_000, 400_000, 20_000, -400_000]) {
    setClock(byMs);
    expect(await sees(100)).toBeCloseTo(100, 0);
    await water(client, 1.5, 0.5);
  }
  for (const byMs of [-20_000, 400_000]) {
    client.end(true);
    expect(await gateway.stop()).toBe(0);
    setClock(byMs);
    ({ gateway, client } = await start());
    expect(await sees(100)).toBeCloseTo(100, 0);
    await water(client, 6, 0.5);
  }
  client.end(true);
  await gateway.stop();

  const series = await openSqliteSeries({ folder: data });
  const rows: SeriesRow[] = [];
  for await (const batch of series.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER))
    rows.push(...batch);
  await series.close();
  const stored = rows.map(({ value }) => Math.round(((value ?? 0) - 0.03) * 1e6));
  expect(stored.toSorted((a, b) => a - b)).toEqual(acknowledged);
  // Nobody's reading carries the year that the clock showed for a while, but for those that came while it did.
  const ofNextYear = rows.filter(({ tMs }) => tMs > Date.now() + yearMs / 2);
  expect(ofNextYear.length).toBeGreaterThan(20);
  expect(ofNextYear.length).toBeLessThan(60);
});
