// Two drums with levels behind one meter: what it counts for a drum is put together from both their levels. Each
// expectation was written down from the physics before the first run.
import type { Fill } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import { drawEvery } from "./drum-story.ts";
import { beginMs } from "./line-bench.ts";
import { type SharedDrum, twoDrums } from "./shared-meter-house.ts";

const often = drawEvery(600, 22, 60);
/** Six good fills; in the next one 3 of the 4 L/min that come in are drawn again, which its level can't see. */
const hose = (atS: number) => (atS < 3660 ? often(atS) : 3);

/** Fills that ended, who was called, and when `mix` ran over. */
function lived({
  mix,
  fresh = { startL: 181 },
  toS,
  drumsLaterS = 0,
}: {
  mix: SharedDrum;
  fresh?: SharedDrum;
  toS: number;
  drumsLaterS?: number;
}) {
  const house = twoDrums({ fresh, mix }, drumsLaterS);
  house.live(toS);
  const { outcomes } = house.bench;
  const calls = house.bench
    .alarms()
    .flatMap(({ annunciated, atMs, alarm }) =>
      annunciated ? [{ what: `${alarm.key} ${alarm.attention}`, atS: (atMs - beginMs) / 1000 }] : [],
    );
  return {
    fills: outcomes.filter((one): one is Fill => one.kind === "fill" && one.endedAtMs !== null),
    calls,
    overAtS: house.overAtS("mix") ?? Number.POSITIVE_INFINITY,
    cameL: ({ drum, startedAtMs, endedAtMs }: Fill) =>
      house.cameL(drum, (startedAtMs - beginMs) / 1000, ((endedAtMs as number) - beginMs) / 1000),
  };
}

describe("a draw that the level does not see", () => {
  it("of 3 L/min while 4 come in, for 20 min: nobody is woken, and the float stops it", () => {
    const { calls, fills } = lived({ mix: { startL: 181, draw: hose }, toS: 5600 });
    expect(calls.filter(({ what }) => what.endsWith("wake"))).toEqual([]);
    // 80 L came in for the 20 L that are more in the drum.
    const last = fills.at(-1);
    expect(last).toMatchObject({ drum: "mix", end: "float-tripped", tripConfirmed: true });
    expect(last?.litres).toBeGreaterThan(75);
  });
  it("the same, and the float sticks: woken by the level past its trip, well before the brim", () => {
    const draw = (atS: number) => (atS < 6000 ? hose(atS) : 0);
    const { calls, overAtS } = lived({
      mix: { startL: 181, draw, float: (atS, wet) => atS < 3600 && wet },
      toS: 6600,
    });
    const woken = calls.find(({ what }) => what === "drum-not-stopping:mix wake")?.atS;
    expect(woken).toBeLessThan(overAtS - 600);
  });
});

describe("a level that shows too little of what comes in, and a float that sticks", () => {
  it.each([2, 4])("1 L of %i: nothing but the meter is left, and it is told", (part) => {
    const { calls, overAtS } = lived({
      mix: {
        startL: 181,
        draw: often,
        float: (atS, wet) => atS < 3600 && wet,
        levelSays: (atS, litres) => (atS > 3660 ? 161 + (litres - 161) / part : litres),
      },
      toS: 5100,
    });
    // By 1.1 times what fits, and 2 L more; what was drawn in the fill is counted twice: 24 L at the most.
    const told = calls.find(({ what }) => what.startsWith("drum-not-stopping:mix"));
    expect(told?.what).toBe("drum-not-stopping:mix tell");
    expect(told?.atS).toBeLessThan(overAtS + 360);
  });
});

describe("one fills while the other stands", () => {
  it.each([0, 3, 7])(
    "has each litre that the meter counted, its own node heard %i s later",
    (drumsLaterS) => {
      const { fills, cameL } = lived({ mix: { startL: 181, draw: often }, toS: 3660, drumsLaterS });
      expect(fills.length).toBeGreaterThan(4);
      for (const fill of fills.slice(1)) {
        const [fromMs, toMs] = [fill.startedAtMs - 20_000, (fill.endedAtMs as number) + 20_000];
        const trueL = cameL({ ...fill, startedAtMs: fromMs, endedAtMs: toMs });
        // The meter's reading stands for the time after it: at the end to within half of its 10 s, 0.33 L, and here to none.
        expect(Math.abs((fill.litres as number) - trueL)).toBeLessThan(0.35);
      }
    },
  );
});

describe("both call at once", () => {
  it("a drum whose level has yet to see its water has a fill that takes its time, not one of 0 s", () => {
    const { fills } = lived({
      mix: { startL: 181, draw: hose },
      fresh: { startL: 181, draw: (atS) => often(atS + 300) },
      toS: 5600,
    });
    expect(fills.filter(({ drum }) => drum === "fresh").length).toBeGreaterThan(5);
    for (const { startedAtMs, endedAtMs } of fills)
      expect((endedAtMs as number) - startedAtMs).toBeGreaterThan(60_000);
  });
});

describe("both are drawn faster than they fill, as at a water change", () => {
  // Six good fills; then 10 L/min from one and 9 from the other for 9 min, while at most 4 come into each.
  const change = (atS: number) => (atS < 3660 ? often(atS) : atS < 4200 ? 10 : 0);
  const { calls, cameL, fills } = lived({
    mix: { startL: 181, draw: change },
    fresh: { startL: 181, draw: (atS) => (atS < 3660 ? often(atS + 300) : atS < 4200 ? 9 : 0) },
    toS: 6600,
  });
  const last = ["mix", "fresh"].map((name) => fills.findLast(({ drum }) => drum === name));

  it("each has its trip proved, and its fill lasts until then", () => {
    for (const fill of last) {
      expect(fill).toMatchObject({ end: "float-tripped", tripConfirmed: true });
      expect((fill?.endedAtMs as number) - (fill?.startedAtMs as number)).toBeGreaterThan(15 * 60_000);
    }
  });
  it("the meter's water is shared between them, also while a draw hides what each level gains", () => {
    // A level that falls takes no part from the other's: each would have all that is counted, twice what came.
    for (const fill of last) {
      const trueL = cameL(fill as Fill);
      expect(trueL).toBeGreaterThan(100);
      expect(Math.abs((fill?.litres as number) / trueL - 1)).toBeLessThan(0.05);
    }
  });
  it("and nobody is told that one of them does not stop", () => {
    expect(calls.filter(({ what }) => what.startsWith("drum-not-stopping"))).toEqual([]);
  });
});
