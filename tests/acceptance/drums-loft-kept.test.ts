// A loft by a model of its own: nodes that send what they had kept so slowly that nothing is heard of now. Written down before
// the first run.
import { describe, expect, it } from "vitest";
import type { Deed, Lived } from "./loft-life.ts";
import {
  boots,
  fillsAt,
  gatewayOff,
  hangs,
  kits,
  loud,
  T,
  take,
  tale,
  trips,
  valve,
  when,
} from "./loft-plans.ts";

/** The gateway is off for so long; what was kept comes so many packs a turn of 5 s. */
const off = (forS: number, perTurn: number): Deed[] => [
  [
    0,
    ({ wheel, floats }: Lived) => {
      wheel.perTurn = perTurn;
      floats.perTurn = perTurn;
    },
  ],
  [0, gatewayOff(forS)],
];

describe("the gateway was off for two hours, and its nodes' present is heard two hours after its return", () => {
  const flood = (): Deed[] => [[8400, take(22)], ...when(8460, fillsAt(168), hangs(false), 600)];
  it.each(["both", "over"] as const)(
    "%s: a float hangs dry meanwhile: that nobody watches is told before",
    (kit) => {
      const told = tale(kits[kit], 155, [...off(7200, 2), ...flood()]);
      const [first] = told.said.filter(({ atS }) => atS > T + 7200);
      expect(first).toMatchObject({ what: "site-silent:saltmarsh-house", attention: "tell", floor: 0 });
      expect(first?.atS).toBeLessThan(T + 7200 + 360);
      expect(told.butt.floor).toBeGreaterThan(0);
    },
  );
  it("a board that began anew while the gateway was off: nobody knows when its packs were made, told alike", () => {
    const told = tale(kits.both, 132, [...off(7200, 2), [3600, boots(90)]]);
    expect(loud(told)).toEqual(["site-silent:saltmarsh-house tell"]);
  });
});

it("the gateway was off for three hours, and all that was kept is in within 4 min: nobody is called", () => {
  const told = tale(kits.both, 200, [...off(10_800, 60), [3600, take(22)]]);
  expect(loud(told)).toEqual([]);
});

it("a valve stays open while the gateway is off: told within 6 min of its return, though what was kept takes 26", () => {
  const told = tale(kits.wheel, 187, [
    ...off(10_800, 8),
    [3600, take(22)],
    ...when(3660, trips, valve("open"), 600),
  ]);
  expect(loud(told)[0]).toBe("site-silent:saltmarsh-house tell");
});
