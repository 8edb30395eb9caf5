// Lives of which the table told something that nobody needs to be told: each with the seed that showed it.
import { describe, expect, it } from "vitest";
import { kitOf } from "./kits.ts";
import { createScenes, scenes } from "./scenes.ts";

function lived(kit: string, seed: number, name: string) {
  const scene = scenes.find((one) => one.name === name);
  if (!scene) throw new Error(`no scene ${name}`);
  return createScenes(kitOf(kit), seed)(scene);
}

describe("a level that rises on is not stuck", () => {
  it("the pressure falls by half in mid-fill and a bucket is drawn: it came to rest by its medians alone", () => {
    expect(lived("timer+level", 39, "pressure-swings").minutesToCall).toBeNull();
  });
  it("waves hide as much as fits between release and trip, and buckets take what comes in", () => {
    expect(lived("membrane+level", 31, "level-waves").minutesToCall).toBeNull();
  });
});

describe("a meter that stands at 0 beside a level", () => {
  it("is told: no bucket that the level missed stood for it before", () => {
    expect(lived("meter+level", 21, "meter-stuck-at-0").isSeen).toBe(true);
  });
});
