import { expect, it } from "vitest";
import { openInfluxLife } from "./influx-kill-rounds.ts";

const kills = Number(process.env.DRUMLIN_KILLS ?? 3);
const seed = Number(process.env.DRUMLIN_SEED ?? 20_261);

it(`${kills} kill -9 of the gateway under load, InfluxDB killed beside it in some (seed ${seed}): both hold every acknowledged reading, once, and the same`, {
  timeout: 120_000 + kills * 60_000,
}, async () => {
  const life = await openInfluxLife(seed);
  try {
    for (let kill = 0; kill < kills; kill += 1) await life.round(kill % 2 === 1);
    const { lost, ...end } = await life.judge();
    console.log(
      `${kills} kills, ${life.killsOfInflux()} of InfluxDB: ${JSON.stringify(end)}, ${lost.length} lost`,
    );
    expect(lost).toEqual([]);
    expect(end).toMatchObject({ code: 0, aside: 0, twice: 0, missing: 0, other: 0, only: 0 });
    expect(end.there).toBe(end.stored);
    expect(end.acknowledged).toBeGreaterThanOrEqual(150 * kills);
  } finally {
    await life.remove();
  }
});
