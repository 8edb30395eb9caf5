import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { expect, it } from "vitest";
import { clockHouse, hourMs, yearMs } from "./clock-house.ts";
import { eventually } from "./gateway-process.ts";

interface Changes {
  readonly items: readonly { readonly at: string; readonly why: string }[];
}

it("a clock set a year ahead while the machine was off, put right while it runs: every value is stored, each dated by the clock of its time, and one alarm told", async () => {
  const { data, start, setClock, switchedOff, water, acknowledged } = await clockHouse();
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
