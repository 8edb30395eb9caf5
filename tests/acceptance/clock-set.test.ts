import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { expect, it } from "vitest";
import { clockHouse, hourMs, yearMs } from "./clock-house.ts";
import { eventually } from "./gateway-process.ts";

interface Changes {
  readonly items: readonly { readonly at: string; readonly to: string; readonly why: string }[];
}
interface Now {
  readonly now: string;
  readonly points: readonly { readonly conductivity25: { readonly value: number | null } }[];
}

it("a clock set back an hour, forward a year and back, and over restarts: every value is stored, spent resin is told, dates follow", async () => {
  const { data, start, setClock, water, acknowledged } = await clockHouse();
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
