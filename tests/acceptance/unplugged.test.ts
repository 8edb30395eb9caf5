// A probe, level, meter or float that is unplugged while its node talks on: its channel is missing from the packs. Each
// expectation was written down before the first run.
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { story } from "./drum-story.ts";
import { beginMs } from "./line-bench.ts";

/** At standstill, and in the middle of the fill that begins at 2 h. */
const still = 1.75 * 3600;
const inFill = 2 * 3600 + 240;
const endS = 2.75 * 3600;
/** 20 L are drawn each hour: the drum fills right after. */
const usual: House = {
  startL: 175,
  draw: (atS) => (atS % 3600 < 120 && atS >= 3600 ? 10 : 0),
  noiseL: 0.1,
  pressS: 20,
  drumsS: 20,
};
const floats = { tripsAt: 180, releasesAt: 160 };
/** Of what is read: missing from a time on. */
const missing =
  <T>(fromS: number) =>
  (atS: number, value: T) =>
    atS >= fromS ? null : value;

function lived(kit: Kit, more: House, fromS: number) {
  const house = story({ ...floats, ...kit }, { ...usual, ...more });
  house.live(600);
  house.act("release", 600, { reason: "hand-test", value25UsPerCm: 0.3 });
  house.live(fromS);
  expect(house.word()).toBe("use");
  house.live(endS);
  const gone = house.bench.outcomes.flatMap((one) => (one.kind === "gone" ? [one.channel] : []));
  const said = house.bench
    .alarms()
    .filter(({ atMs, why }) => atMs >= beginMs + fromS * 1000 && why === "raised")
    .map(({ alarm: { key, attention }, atMs }) => [`${key} ${attention}`, (atMs - beginMs) / 1000] as const);
  return { house, gone: [...new Set(gone)], told: new Map(said) };
}

describe("unplugged while its node talks on", () => {
  it.each([
    ["at standstill", still],
    ["in a fill", inFill],
  ])("the probe behind the resin, %s: no witness of its water, whose word is unknown; told", (_, fromS) => {
    const { house, gone, told } = lived({ meter: true }, { kappaSays: missing<number>(fromS) }, fromS);
    expect(gone).toEqual(["press/ec-2"]);
    expect(house.word()).toBe("unknown");
    expect(house.fills().at(-1)?.watched).toBeLessThan(fromS === still ? 0.01 : 0.6);
    // Conductivity is judged while water runs: in the fill that comes after ten minutes without it.
    const atS = told.get("probe-implausible:press.ec-2 today") ?? null;
    if (fromS === inFill) expect(atS).toBeNull();
    else expect(Math.abs((atS ?? 0) - 2 * 3600 - 50)).toBeLessThanOrEqual(30);
  });

  it("the stop float: nobody knows what comes in; told after 10 min", () => {
    const { house, gone, told } = lived({ overflow: true }, { contactMissing: (atS) => atS >= still }, still);
    expect(gone).toEqual(["drums/stop"]);
    expect(house.word()).toBe("unknown");
    const atS = told.get("probe-implausible:drums.stop today") ?? 0;
    expect(atS).toBeGreaterThanOrEqual(still + 600);
    expect(atS).toBeLessThanOrEqual(still + 720);
  });

  it("a level that guards its drum: told in the next fill that nobody guards it, and after 10 min that it is missing", () => {
    const { house, gone, told } = lived({ level: true }, { levelSays: missing<number>(still) }, still);
    expect(gone).toEqual(["drums/level"]);
    expect(told.has("watch-lost:mix tell")).toBe(true);
    expect(told.has("probe-implausible:drums.level today")).toBe(true);
    expect(house.fills().at(-1)?.basis).not.toBe("level");
  });

  it("a meter, in a fill: its litres are estimated, told that nobody counts", () => {
    const { house, gone, told } = lived({ meter: true }, { meterSays: missing<number>(inFill) }, inFill);
    expect(gone).toEqual(["press/flow-1"]);
    expect(told.has("watch-lost:mix tell")).toBe(true);
    expect(told.has("probe-implausible:press.flow-1 today")).toBe(true);
    expect(house.word()).toBe("unknown");
    expect(house.fills().at(-1)?.estimated).toBe(true);
  });

  it("and plugged in again: over, and its water is watched again", () => {
    const back = inFill + 900;
    const { house } = lived(
      { meter: true },
      { meterSays: (atS, flow) => (atS >= inFill && atS < back ? null : flow) },
      inFill,
    );
    const about = house.bench.alarms().filter(({ alarm }) => alarm.condition === "probe-implausible");
    expect(about.map(({ why }) => why).filter((why) => !why.endsWith("judged"))).toEqual([
      "raised",
      "returned",
    ]);
  });

  it("a node that is silent itself is told as that, not as each of its channels", () => {
    const { house, told } = lived(
      { meter: true },
      { silent: (atS, node) => node === "press" && atS >= still },
      still,
    );
    expect([...told.keys()].filter((key) => key.startsWith("probe-implausible"))).toEqual([]);
    expect(
      house.bench.outcomes.some((one) => one.kind === "alarm" && one.alarm.condition === "node-silent"),
    ).toBe(true);
  });
});
