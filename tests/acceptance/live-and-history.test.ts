import { describe, expect, it } from "vitest";
import { houseLife, type SlowNodes } from "../golden/house-life.ts";
import { livedTwice } from "./lived-twice.ts";

/** Lives in which nothing comes late; in five of six something does. The long form draws as many as it is told. */
const punctual = [4, 5, 9, 15, 27, 36, 47, 51, 69, 75, 77, 86, 87, 103, 114, 145];
const asked = Number(process.env.DRUMLIN_LIVES ?? 0);
const lives = asked > 0 ? Array.from({ length: asked }, (_, seed) => seed) : punctual;

/** Lives with a pack each 60 s, whose nodes say that a probe compensates by itself; in these nothing comes late, and a float trips. */
const slowly = { everyS: 60, lives: asked > 0 ? lives : [4, 5, 12, 15, 17, 27, 31, 32, 36, 38, 59] };

/** A life of the house, lived once and told again from what is stored; null where something came late. */
const twice = (seed: number, slow: SlowNodes | null = null) =>
  livedTwice(houseLife(seed, slow), Math.max(60_000, 3 * (slow?.everyS ?? 20) * 1000));

describe("where nothing came late, history gives what live gave, byte for byte", () => {
  const compared: number[] = [];
  it.each(lives)("life %i: measurements, runs, fills, words, alarms", async (seed) => {
    const told = await twice(seed);
    if (!told) return;
    compared.push(seed);
    expect(told.past).toEqual(told.live);
  });
  it("enough of the lives had nothing late", () => {
    expect(compared.length).toBeGreaterThanOrEqual(asked > 0 ? asked / 6 : punctual.length);
  });

  const tripped: number[] = [];
  it.each(slowly.lives)("life %i with a pack each 60 s, and what nodes announced", async (seed) => {
    const told = await twice(seed, slowly);
    if (!told) return;
    if (told.live.some((line) => line.includes('"end":"float-tripped"'))) tripped.push(seed);
    expect(told.past).toEqual(told.live);
  });
  it("in enough of them a float ended a fill", () => {
    expect(tripped.length).toBeGreaterThanOrEqual(asked > 0 ? asked / 12 : slowly.lives.length);
  });
});
