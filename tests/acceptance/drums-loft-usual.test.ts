// A loft by a model of its own: what a flood, a tap left open, and a float that somebody moved teach about the next fill. Most
// of it was written down before the first run; two kits' numbers and one limit of time were seen first.
import { describe, expect, it } from "vitest";
import type { Deed, Lived, Told } from "./loft-life.ts";
import {
  act,
  expectWokenDry,
  fillsAt,
  gatewayOff,
  hangs,
  kits,
  loud,
  on,
  T,
  take,
  tale,
  tap,
  trips,
  valve,
  wakes,
  when,
} from "./loft-plans.ts";

const tellsOfLong = ({ said }: Told) =>
  said.filter(({ atS, what }) => atS >= T && what.startsWith("fill-long")).map(({ atS }) => atS - T);
const hungAgain = (fromS: number): Deed[] => [
  [fromS, take(45)],
  ...when(fromS + 150, fillsAt(168), hangs(false), 900),
];

describe("a flood of 130 L teaches nothing of what is usual, by a wheel alone", () => {
  it("its float was freed by hand: the next one is told as soon as the first was", () => {
    const told = tale(kits.wheel, 100, [
      [0, take(22)],
      ...when(60, fillsAt(168), hangs(false), 600),
      ...when(300, ({ butt }) => butt.came > 6 * 22 + 130, hangs(null), 4000),
      ...hungAgain(4000),
    ]);
    // A fill of 27.5 L at 4 L/min, and a minute.
    expect(tellsOfLong(told)).toEqual([542, expect.closeTo(4000 + 602, -1)]);
  });
  it("its supply was shut: the next one is told with no more on the floor", () => {
    const told = tale(kits.wheel, 120, [
      [0, take(22)],
      ...when(60, fillsAt(168), hangs(false), 600),
      [2000, tap(true)],
      [2100, hangs(null)],
      [4000, tap(false)],
      ...hungAgain(4500),
    ]);
    expect(tellsOfLong(told)).toEqual([542, expect.closeTo(4500 + 602, -1)]);
  });
  it("nor does one that a person ended by closing the supply, told or not", () => {
    const told = tale(kits.wheel, 120, [
      [0, take(22)],
      ...when(60, fillsAt(168), hangs(false), 600),
      [2000, tap(true)],
      [2005, act({ type: "supply-closed", drum: "butt" })],
      [2100, hangs(null)],
      [4000, tap(false)],
      ...hungAgain(4500),
    ]);
    expect(tellsOfLong(told)).toHaveLength(2);
    expect(tellsOfLong(told)[1]).toBeLessThan(4500 + 620);
  });
});

it("60 L are drawn from now on, at any hour, where 22 were: told three times, then that is usual", () => {
  const deeds = Array.from({ length: 8 }, (_, turn): Deed => [600 + turn * 4100, take(60)]);
  expect(tellsOfLong(tale(kits.wheel, 560, deeds))).toHaveLength(3);
});

describe("a tap of 3 L/min is left open for three hours: told once", () => {
  it.each(["wheel", "both", "float"] as const)("%s", (kit) => {
    const told = tale(kits[kit], 190, [[0, take(540, 3)]]);
    expect(loud(told)).toHaveLength(1);
    expect(wakes(told)).toEqual([]);
  });
  it("and its float hangs two hours after it was shut: told as before", () => {
    const told = tale(kits.wheel, 330, [[0, take(540, 3)], ...hungAgain(18_000)]);
    expect(tellsOfLong(told)).toEqual([882, expect.closeTo(18_000 + 542, -1)]);
  });
});

describe("a float that hung is freed close under the edge, where it trips at once, and said to have been moved", () => {
  it.each([190, 195, 197])("at %i L: the next time that it hangs wakes before the edge", (litres) => {
    const told = tale(kits.level, 90, [
      [0, take(22)],
      ...when(60, fillsAt(165), hangs(false), 600),
      ...when(300, fillsAt(litres), hangs(null), 1500),
      [1800, take(10)],
      [2400, on("reset", "drum-not-stopping", { float: "moved" })],
      [3600, take(40)],
      ...when(3650, fillsAt(165), hangs(false), 900),
    ]);
    expect(told.answers.slice(-1)).toEqual([null]);
    expectWokenDry(told, T + 3600);
  });
  it("one that truly trips at 195 of 200 L calls nobody", () => {
    const draws = [10, 1500, 3000, 4500, 6000, 7500].map((atS): Deed => [atS, take(26)]);
    const high = { butts: { butt: { upAt: 195, downAt: 170, litres: 195 } } };
    expect(loud(tale(kits.level, 140, draws, high))).toEqual([]);
  });
});

describe("the gateway is off from before a draw until long after the float tripped, and the valve sticks", () => {
  it.each([8, 60])(
    "what was kept comes %i packs a turn: woken within a minute of the last of them",
    (perTurn) => {
      const told = tale(kits.wheel, 30, [
        [
          0,
          ({ wheel, floats }: Lived) => {
            for (const one of [wheel, floats]) one.perTurn = perTurn;
          },
        ],
        [0, gatewayOff(900)],
        [30, take(22)],
        ...when(60, trips, valve("open"), 900),
      ]);
      const [first] = wakes(told);
      expect(first?.what).toBe("drum-not-stopping:butt");
      // 180 packs of each board wait.
      expect(first?.atS).toBeLessThan(T + 900 + (180 / perTurn) * 5 + 60);
    },
  );
  it("and it shut as it should: nobody is called, nor by what is drawn next", () => {
    const told = tale(kits.wheel, 60, [
      [0, gatewayOff(900)],
      [30, take(22)],
      [1500, take(22)],
    ]);
    expect(loud(told)).toEqual([]);
  });
});

describe("60 L are drawn for the first time under a proved overflow float", () => {
  const proved: Deed[] = [
    [0, act({ type: "proof-start", float: "butt.overflow", method: "lifted" })],
    [20, ({ butt }) => void Object.assign(butt, { overWire: () => true })],
    [50, ({ butt }) => void Object.assign(butt, { overWire: (isUp: boolean) => isUp })],
  ];
  const apart = {
    begins: (life: Lived) => {
      const wet = () => life.butt.overWire(life.butt.litres >= life.butt.overAt);
      Object.assign(life.wheel, { alters: (pack: object[]) => [...pack, { n: "over-butt", vb: wet() }] });
    },
  };
  const line = kits.overKnown.replace("floats/over-butt", "wheel/over-butt");
  const later = (told: Told) => told.said.filter(({ atS }) => atS >= T + 600);
  it("that has a node of its own: nobody is called", () =>
    expect(later(tale(line, 40, [...proved, [600, take(60)]], apart))).toEqual([]));
  it("and what floods wakes by it before the edge", () =>
    expectWokenDry(
      tale(line, 40, [...proved, [600, take(22)], ...when(660, fillsAt(165), hangs(false), 600)], apart),
      T + 600,
    ));
  it("on the cable of the stop float: told, since a cut cable looks the same", () =>
    expect(later(tale(kits.overKnown, 40, [...proved, [600, take(60)]])).map(({ what }) => what)).toEqual([
      "fill-long:butt",
    ]));
});
