// A loft by a model of its own: what looks like a flood or like water and is neither. Each stands as it was written down before
// its first run, or says what was wrong with it.
import { expect, it } from "vitest";
import type { Deed, Lived } from "./loft-life.ts";
import { boards, boots, fillsAt, fillsOf, kits, loud, off, T, take, tale, tap, when } from "./loft-plans.ts";

/** Its packs say 0 for all for so long: floats down, levels and flow 0. */
const zeros =
  (forS: number): Deed[1] =>
  ({ wheel, floats }, fromS) => {
    for (const board of [wheel, floats])
      board.alters = (pack, atS) =>
        atS - fromS < forS
          ? pack.map((one) => ("vb" in one ? { ...one, vb: false } : { ...one, v: 0 }))
          : pack;
  };

it("a broker sends the last 60 packs once more each 2 min: fills are counted once", () => {
  const again = ({ bench, wheel, floats }: Lived, atS: number) => {
    for (const { name, sent } of [wheel, floats])
      for (const pack of sent.slice(-60)) bench.node(name, pack, atS);
  };
  const told = tale(kits.both, 16, [
    [0, take(22)],
    ...Array.from({ length: 7 }, (_, turn): Deed => [turn * 120, again]),
  ]);
  expect(loud(told)).toEqual([]);
  expect(off(told)).toBeLessThan(3);
  expect(fillsOf(told)).toMatchObject([{ end: "float-tripped" }]);
  expect(told.word.butt).toBe("use");
});

it("a pack of zeros at rest, and one in mid-fill: nobody is called, and the fill is one", () => {
  const told = tale(kits.both, 14, [
    [100, zeros(5)],
    [200, take(22)],
    [400, zeros(5)],
  ]);
  expect(loud(told)).toEqual([]);
  expect(fillsOf(told)).toMatchObject([{ end: "float-tripped" }]);
  expect(off(told)).toBeLessThan(3);
});

it("power is cut for 3 min, and for 35 s after it both boards say 0 for all: no fill is made up, nobody is woken", () => {
  const told = tale(kits.both, 35, [
    [300, boards("off")],
    [300, tap(true)],
    [480, tap(false)],
    [480, boots(77)],
    [480, zeros(35)],
    [1200, take(22)],
  ]);
  // It was expected that nothing is told: both boards are off for 3 min, and that is.
  expect(loud(told)).toEqual(["site-silent:saltmarsh-house tell"]);
  expect(fillsOf(told)).toHaveLength(1);
  expect(told.words.filter(({ word }) => word === "hold")).toEqual([]);
});

it("a wheel turns back by 0.4 L as its valve shuts, and its total with it: litres are right, nobody is called", () => {
  const told = tale(kits.wheel, 35, [
    [
      0,
      ({ loft, wheel }) => {
        loft.kickback = 0.4;
        wheel.counts = true;
      },
    ],
    [0, take(22)],
    [1200, take(22)],
  ]);
  expect(loud(told)).toEqual([]);
  expect(off(told)).toBeLessThan(3);
  expect(told.word.butt).toBe("use");
});

it("its butt gets another name in mid-fill: nobody is called, and the fill of the new one has its trip", () => {
  const renamed = ({ bench }: Lived, atS: number) => bench.line(kits.wheel.replace("butt:", "keg:"), atS);
  const told = tale(kits.wheel, 14, [[0, take(22)], ...when(60, fillsAt(166), renamed, 600)]);
  expect(loud(told)).toEqual([]);
  expect(fillsOf(told, "keg")).toMatchObject([{ end: "float-tripped" }]);
  expect(told.word.keg).toBe("unknown");
});

it("a float is pulled down for 20 s with the tap shut: no fill, no trip", () => {
  const told = tale(kits.both, 12, [
    [295, tap(true)],
    [300, ({ butt }) => void Object.assign(butt, { wire: () => false })],
    [320, ({ butt }) => void Object.assign(butt, { wire: null })],
    [340, tap(false)],
  ]);
  expect(loud(told)).toEqual([]);
  expect(fillsOf(told)).toEqual([]);
  expect(told.said.filter(({ atS }) => atS >= T)).toEqual([]);
});
