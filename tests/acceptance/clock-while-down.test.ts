import { readFileSync, writeFileSync } from "node:fs";
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

/** A gateway whose machine is switched off and on, with a clock that can be set meanwhile, and its node: a pack each 5 s. */
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
  /** Another run of the machine: nothing but its clock tells how long it was off. */
  const switchedOff = () => {
    const path = join(site.data, "clock.json");
    const kept = JSON.parse(readFileSync(path, "utf8"));
    writeFileSync(path, JSON.stringify({ ...kept, saved: { ...kept.saved, bootId: "another run" } }));
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
  return { ...site, start, setClock, switchedOff, water, acknowledged };
}

interface Changes {
  readonly items: readonly { readonly at: string; readonly why: string }[];
}

it("a clock set a year ahead while the machine was off, put right while it runs: every value is stored, each dated by the clock of its time, and one alarm told", async () => {
  const { data, start, setClock, switchedOff, water, acknowledged } = await house();
  let { gateway, client } = await start();
  const whatIs = async () => Date.parse((await gateway.json<{ readonly now: string }>("/api/line")).now);
  /** Whether a date is about now, by so much; a minute passes in a second, so that an hour is a minute of this test. */
  const isAbout = (ms: number, byMs = 0) => Math.abs(ms - byMs - Date.now()) < 3 * hourMs;
  await water(client, 6, 0.5);
  const before = acknowledged.length;
  client.end(true);
  expect(await gateway.stop()).toBe(0);
  switchedOff();
  setClock(yearMs);
  ({ gateway, client } = await start());
  await water(client, 4, 0.5);
  expect(isAbout(await whatIs(), yearMs)).toBe(true);
  const ahead = acknowledged.length;
  setClock(-yearMs);
  await water(client, 4, 0.5);
  expect(isAbout(await whatIs())).toBe(true);
  const right = acknowledged.length;
  await water(client, 20, 100);
  const told = await eventually(
    () => gateway.json<Changes>("/api/alarms/journal"),
    ({ items }) => items.some(({ why }) => why.startsWith("raised")),
  );
  const raised = (condition: string) =>
    told.items.filter(
      (one) => one.why.startsWith("raised") && JSON.stringify(one).includes(`"condition":"${condition}"`),
    );
  expect(raised("resin-breakthrough").map(({ at }) => isAbout(Date.parse(at)))).toEqual([true]);
  // The fill that ran as the machine went off has not taken a year.
  expect(raised("fill-long")).toEqual([]);
  client.end(true);
  expect(await gateway.stop()).toBe(0);

  const series = await openSqliteSeries({ folder: data });
  const rows: SeriesRow[] = [];
  for await (const batch of series.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER))
    rows.push(...batch);
  await series.close();
  const dates = new Map(rows.map(({ value, tMs }) => [Math.round(((value ?? 0) - 0.03) * 1e6), tMs]));
  expect([...dates.keys()].sort((a, b) => a - b)).toEqual(acknowledged);
  expect(rows).toHaveLength(acknowledged.length);
  const dated = (from: number, to: number, byMs: number) =>
    acknowledged.slice(from, to).filter((number) => isAbout(dates.get(number) as number, byMs)).length;
  expect(dated(0, before, 0)).toBe(before);
  // What comes until the clock is looked at again has the dates of the one that showed until then.
  expect(dated(before, ahead, yearMs)).toBe(ahead - before);
  expect(dated(right, acknowledged.length, 0)).toBe(acknowledged.length - right);
});
