// A loft by a model of its own: nodes that send what they had kept so slowly that nothing is heard of now. Written down before
// the first run.
import { describe, expect, it } from "vitest";
import type { Deed, Lived } from "./loft-life.ts";
import {
  boards,
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

const each = (fromS: number, toS: number, byS: number, does: Deed[1]): Deed[] =>
  Array.from({ length: (toS - fromS) / byS }, (_, turn): Deed => [fromS + turn * byS, does]);
type Name = "wheel" | "floats";
/** The last pack comes again: its answer was lost with the link. */
const again =
  (names: readonly Name[]): Deed[1] =>
  (life, atS) => {
    for (const name of names) life.bench.node(name, life[name].sent.at(-1) ?? [], atS);
  };
const announced =
  (names: readonly Name[]): Deed[1] =>
  (life, atS) => {
    for (const name of names) {
      const { boot, everyS: period_s } = life[name];
      const said = { state: "online", boot, firmware: "l", protocol: 1, period_s, channels: [] };
      life.bench.presence(name, said, atS);
    }
  };

describe("what was kept comes slowly because the link breaks time and again", () => {
  it("each two minutes the last pack comes again, after two hours: told within 6 min", () => {
    const repeats = each(7260, 9180, 120, again(["wheel", "floats"]));
    const told = tale(kits.both, 153, [...off(7200, 2), ...repeats]);
    expect(loud(told)).toEqual(["site-silent:saltmarsh-house tell"]);
    expect(told.said.find(({ what }) => what.startsWith("site"))?.atS).toBeLessThan(T + 7200 + 360);
  });
  it("one of two nodes announces itself each 50 s while its drum fills: told within 7 min", () => {
    const told = tale(kits.both, 150, [
      [0, ({ floats }) => void Object.assign(floats, { perTurn: 2 })],
      [0, boards("keeps", ["floats"])],
      [7200, boards("sends", ["floats"])],
      [7210, take(22)],
      ...each(7210, 9000, 50, announced(["floats"])),
    ]);
    const first = told.said.find(({ atS, what }) => atS > T + 7200 && what === "node-silent:floats");
    expect(first?.attention).toBe("tell");
    expect(first?.atS).toBeLessThan(T + 7200 + 420);
  });
});

it.each([180, 600])(
  "the gateway goes off for %i s more while what was kept comes in, for 3 min in all: nobody is called",
  (forS) => {
    const told = tale(kits.both, 90, [
      ...off(3600, 30),
      [3660, gatewayOff(forS)],
      [3662 + forS, announced(["wheel", "floats"])],
    ]);
    expect(loud(told)).toEqual([]);
  },
);
