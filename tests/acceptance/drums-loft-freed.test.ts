// A loft by a model of its own: a float hung, 130 L came, and somebody freed it. It hangs again, soon or at the same hour of the
// next day: nothing of the first flood explains the second. Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Deed, Told } from "./loft-life.ts";
import { act, expectWokenDry, fillsAt, hangs, kits, on, T, take, tale, tap, when } from "./loft-plans.ts";

const floodFreed = (): Deed[] => [
  [0, take(22)],
  ...when(60, fillsAt(168), hangs(false), 600),
  ...when(300, ({ butt }) => butt.came > 6 * 22 + 130, hangs(null), 4000),
];
const hangsAgain = (fromS: number, litres = 45): Deed[] => [
  [fromS, take(litres)],
  ...when(fromS + 150, fillsAt(168), hangs(false), 900),
];
/** From the edge down to its release, then as ever. */
const draws = (atS: readonly number[]): Deed[] =>
  atS.map((one, turn): Deed => [one, take(turn === 0 ? 42 : 22)]);
const toldAt = ({ said }: Told, fromS: number) =>
  said.find(({ atS, what }) => atS >= T + fromS && what.startsWith("fill-long"));

/** Told before anything more runs over. */
function expectToldDry(told: Told, fromS: number): void {
  const [first, second] = [toldAt(told, 0), toldAt(told, fromS)];
  expect(first?.floor).toBe(0);
  const leftL = told.loft.butts.butt?.floor ?? Number.NaN;
  expect(second).toBeDefined();
  // Until the tale's end it ran on: what lay there when it was told is the first flood's alone.
  expect(second?.floor).toBeLessThan(100);
  expect(leftL).toBeGreaterThan(150);
  expect(second?.atS).toBeLessThan(T + fromS + 720);
}

describe("a float that hung and was freed hangs again", () => {
  it("ten minutes later", () =>
    expectToldDry(tale(kits.wheel, 120, [...floodFreed(), ...hangsAgain(2900, 60)]), 2900));
  it("half an hour later", () =>
    expectToldDry(tale(kits.wheel, 120, [...floodFreed(), [2600, take(20)], ...hangsAgain(3700, 30)]), 3700));
  it.each(["wheel", "float"] as const)("after seven usual draws, 25 min apart: %s", (kit) => {
    const usual = draws(Array.from({ length: 7 }, (_, turn) => 3000 + 1500 * turn));
    expectToldDry(tale(kits[kit], 300, [...floodFreed(), ...usual, ...hangsAgain(13_500)]), 13_500);
  });
  it.each(["wheel", "float"] as const)("about the same hour of the next day: %s", (kit) => {
    const usual = draws([10_000, 20_000, 30_000, 40_000, 50_000, 60_000]);
    expectToldDry(tale(kits[kit], 1530, [...floodFreed(), ...usual, ...hangsAgain(88_400)]), 88_400);
  });
  it("and the supply was shut for a while within the first flood", () => {
    const shut: Deed[] = [
      [0, take(22)],
      ...when(60, fillsAt(168), hangs(false), 600),
      [2000, tap(true)],
      [2700, tap(false)],
      [2900, hangs(null)],
    ];
    const told = tale(kits.wheel, 140, [...shut, ...hangsAgain(5500)]);
    expect(toldAt(told, 5500)?.atS).toBeLessThan(T + 5500 + 720);
  });
});

it("one of the first two fills ever floods, and its float is freed at the edge: where it tripped then teaches nothing", () => {
  const first: Deed[] = [
    [60, act({ type: "release", drum: "butt", reason: "hand-test", value25UsPerCm: 1 })],
    [600, take(22)],
  ];
  const again: Deed[] = [
    [0, take(22)],
    ...when(60, fillsAt(168), hangs(false), 600),
    ...when(300, fillsAt(199.5), hangs(null), 2000),
    [1500, take(30)],
    [2000, on("reset", "drum-not-stopping")],
  ];
  const told = tale(kits.level, 90, [...again, ...hangsAgain(2500, 30)], {}, first);
  expect(told.answers).toEqual([null, null]);
  expectWokenDry(told, T + 2500);
});
