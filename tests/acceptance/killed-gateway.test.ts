import { expect, it } from "vitest";
import { judgeLife, killOnce, openLife } from "./kill-rounds.ts";

const kills = Number(process.env.DRUMLIN_KILLS ?? 10);
/** Where a long run is kept, so that one that was stopped is gone on with. */
const folder = process.env.DRUMLIN_KILLS_FOLDER ?? null;

it(`${kills} kill -9 and power losses under QoS 1 load: every acknowledged pack is in the series, none twice`, {
  timeout: 60_000 + kills * 20_000,
}, async () => {
  const life = await openLife(folder);
  for (let kill = 0; kill < kills; kill += 1) await killOnce(life);
  const { rounds, lostBytes } = life;
  const { lost, ...end } = await judgeLife(life);
  if (folder !== null)
    console.log(
      `${rounds} kills and power losses so far: ${JSON.stringify(end)}, ${lost.length} lost; ${lostBytes} bytes of stores that were not synced were cut off`,
    );
  expect(lost).toEqual([]);
  expect(end).toMatchObject({ code: 0, twice: 0, stored: end.journaled });
  expect(end.acknowledged).toBeGreaterThan(40 * kills);
  expect(lostBytes).toBeGreaterThan(0);
});
