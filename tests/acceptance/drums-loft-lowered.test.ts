// A loft by a model of its own: a float that somebody hangs lower, and a level that reads less from one moment to the next. Both
// contradict each other then, and nobody says which was touched. Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Deed, Lived, Told } from "./loft-life.ts";
import { expectWokenDry, fillsAt, fillsOf, hangs, kits, T, take, tale, wakes, when } from "./loft-plans.ts";

const draws = (times: number): Deed[] =>
  Array.from({ length: times }, (_, turn): Deed => [2000 + 1600 * turn, take(22)]);
const lower = (upAt: number): Deed[] => [
  [10, ({ butt }) => void Object.assign(butt, { upAt, downAt: upAt - 20 })],
  [100, take(60)],
];
const reads = (litres: number): Deed => [10, (life: Lived) => void Object.assign(life, { zero: litres })];
const saidOf = ({ said }: Told, fromS: number) =>
  said.filter(({ atS }) => atS >= T + fromS).map(({ what }) => what);

const lines = ["level", "levelKnown"] as const;
describe.each(lines)("%s: a float trips lower from now on, by 15 or 30 L", (kit) => {
  it.each([150, 165])(
    "at %i L: after three fills nobody is called any more, and litres are known",
    (upAt) => {
      const told = tale(kits[kit], 250, [...lower(upAt), ...draws(8)]);
      expect(wakes(told)).toEqual([]);
      expect(saidOf(told, 0).length).toBeLessThanOrEqual(3);
      expect(saidOf(told, 2000 + 1600 * 3)).toEqual([]);
      for (const { litres } of fillsOf(told).slice(-3))
        expect(Math.abs((litres ?? 0) - 22)).toBeLessThan(1.5);
    },
  );
  it("and hangs at the sixth: woken far from the edge", () => {
    const hung = when(8500, fillsAt(135), hangs(false), 900);
    const told = tale(kits[kit], 180, [...lower(150), ...draws(5), ...hung]);
    expectWokenDry(told, T + 8400);
    // It would have tripped 5.5 min after the draw at 8400; at 4 L/min 50 L remain to the edge.
    expect(wakes(told)[0]?.atS).toBeLessThan(T + 8400 + 660);
  });
});

it("a float trips 30 L lower, and its line says so after four fills: nobody is called after that", () => {
  const lowLine = kits.levelKnown.replace("180 L", "150 L").replace("160 L", "130 L");
  const says: Deed = [2000 + 1600 * 4 - 200, ({ bench }, atS) => bench.line(lowLine, atS)];
  const told = tale(kits.levelKnown, 250, [...lower(150), ...draws(8), says]);
  expect(wakes(told)).toEqual([]);
  expect(saidOf(told, 2000 + 1600 * 4)).toEqual([]);
});

it.each(lines.flatMap((kit) => [-15, -30].map((litres) => [kit, litres] as const)))(
  "%s: a level reads %i L from now on, and at the fifth fill its float hangs: woken before the edge",
  (kit, litres) => {
    const hung = when(8500, fillsAt(165), hangs(false), 900);
    expectWokenDry(tale(kits[kit], 180, [reads(litres), ...draws(5), ...hung]), T + 8400);
  },
);

it("45 L are emptied out at a blow, time after time: the float is where it was, and one that hangs wakes as ever", () => {
  const blows = Array.from({ length: 5 }, (_, turn): Deed => [1200 + 1600 * turn, take(45, 1200)]);
  const hung = [[9600, take(22)] as Deed, ...when(9700, fillsAt(165), hangs(false), 900)];
  const told = tale(kits.level, 180, [...blows, ...hung]);
  expectWokenDry(told, T + 9600);
  // 184 L are reached 450 s after the draw begins: as in a loft in which nothing was emptied.
  expect(wakes(told)[0]?.atS).toBeLessThan(T + 9600 + 480);
});
