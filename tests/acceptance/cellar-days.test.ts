// Stories of a cellar by a model of its own. Each stands as it was written down before its first run, or says what was wrong with it.
import { describe, expect, it } from "vitest";
import type { Deed } from "./cellar-life.ts";
import {
  began,
  both,
  bucket,
  calls,
  fillsOf,
  fillsTo,
  kits,
  last,
  off,
  once,
  restart,
  story,
  wakes,
} from "./cellar-plans.ts";

describe("silences, restarts, draws", () => {
  it.each([
    ["18", 3, 3],
    ["19", 60, 6],
  ])("%s meter: a restart of %i s in mid-fill", (_, downS, percent) => {
    const acted = story(kits.meter, 30, [[0, bucket(22)], ...once(60, fillsTo(168), restart(downS))]);
    expect(fillsOf(acted).map(({ end }) => end)).toEqual(["float-tripped"]);
    expect(off(acted)).toBeLessThan(percent);
    expect(calls(acted)).toEqual([]);
    expect(last(acted)).toBe("use");
  });
  it("20 meter: its node boots anew in mid-fill", () => {
    const acted = story(kits.meter, 30, [
      [0, bucket(22)],
      ...once(60, fillsTo(168), ({ meter }) => void Object.assign(meter, { way: "lost" })),
      ...once(
        60,
        fillsTo(169),
        ({ meter }, atS) => void Object.assign(meter, { way: "sent", boot: 21, beganS: atS, packs: 0 }),
      ),
    ]);
    expect(fillsOf(acted)).toHaveLength(1);
    expect(off(acted)).toBeLessThan(6);
    expect(wakes(acted)).toEqual([]);
    expect(last(acted)).toBe("use");
  });
  it("21 meter: the floats' node keeps ten minutes over the trip", () => {
    const acted = story(kits.meter, 50, [
      [0, bucket(22)],
      ...once(
        60,
        fillsTo(172),
        ({ floats }, atS) =>
          void Object.assign(floats, {
            way: "kept",
            turns: (records: Record<string, unknown>[], nowS: number) =>
              nowS - atS >= 600 ? Object.assign(floats, { way: "sent" }) && records : records,
          }),
      ),
    ]);
    // Written down as "float-tripped": that the float tripped comes with the derivation that late packs start.
    expect(fillsOf(acted).map(({ end }) => end)).toEqual(["inflow-stopped"]);
    expect(off(acted)).toBeLessThan(3);
    expect(wakes(acted)).toEqual([]);
    expect(last(acted)).toBe("use");
  });
  it("22 both: a bucket of 15 L in mid-fill", () => {
    const acted = story(kits.both, 30, [[0, bucket(22)], ...once(60, fillsTo(170), bucket(15))]);
    expect(calls(acted).filter((one) => /tell|wake/.test(one))).toEqual([]);
    expect(off(acted)).toBeLessThan(3);
  });
  it("23 both: 120 L drawn at 60 L/min", () => {
    const acted = story(kits.both, 60, [[0, bucket(120, 60)]]);
    expect(wakes(acted)).toEqual([]);
    expect(off(acted)).toBeLessThan(3);
    expect(last(acted)).toBe("use");
  });
  it("24 meter: 3 L each two minutes for 40 min", () => {
    const acted = story(
      kits.meter,
      70,
      Array.from({ length: 20 }, (_, n): Deed => [n * 120, bucket(3)]),
    );
    expect(wakes(acted)).toEqual([]);
    expect(off(acted)).toBeLessThan(3);
    expect(last(acted)).toBe("use");
  });
  it("26 three drums with levels on one meter, drawn within a minute", () => {
    const names = ["a", "b", "c"];
    const acted = story(
      kits.three,
      40,
      names.map((name, n): Deed => [n * 20, bucket(25, 20, name)]),
      { vats: { a: {}, b: {}, c: {} } },
      began(names),
    );
    for (const name of names) {
      expect(off(acted, name), name).toBeLessThan(4);
      expect(last(acted, name), name).toBe("use");
    }
    expect(calls(acted)).toEqual([]);
  });
  it("27 two drums on one meter, drawn in turn", () => {
    const acted = story(
      kits.two,
      60,
      [
        [0, bucket(22, 20, "a")],
        [900, bucket(22, 20, "b")],
        [1800, bucket(22, 20, "a")],
      ],
      { vats: { a: {}, b: {} } },
      began(["a", "b"]),
    );
    expect(calls(acted)).toEqual([]);
    for (const name of ["a", "b"]) {
      expect(off(acted, name), name).toBeLessThan(3);
      expect(last(acted, name), name).toBe("use");
    }
  });
  it("34 meter: power is lost in mid-fill, all of it begins anew after 5 min", () => {
    const acted = story(kits.meter, 50, [
      [0, bucket(22)],
      ...once(60, fillsTo(168), (world, atS) => {
        both("lost")(world, atS);
        world.vat.held = "shut";
        world.bench.restart(atS + 290);
        world.deafUntilS = atS + 290;
      }),
      ...once(
        60,
        ({ vat }) => vat.held === "shut",
        () => {},
      ),
      ...once(
        420,
        () => true,
        (world, atS) => {
          both("sent")(world, atS);
          world.vat.held = null;
          for (const node of [world.meter, world.floats])
            Object.assign(node, { boot: 40, beganS: atS, packs: 0 });
        },
      ),
    ]);
    expect(wakes(acted)).toEqual([]);
    expect(acted.words.filter(({ word }) => word === "hold")).toEqual([]);
  });
  it("35 meter: half the pressure from now on", () => {
    const acted = story(kits.meter, 90, [
      [0, ({ cellar }) => void Object.assign(cellar, { pressure: 0.5 })],
      ...[0, 1500, 3000].map((atS): Deed => [atS, bucket(22)]),
    ]);
    expect(calls(acted)).toEqual([]);
  });
  it("36 meter: the supply is shut for 30 min while the float calls", () => {
    const acted = story(kits.meter, 70, [
      [0, ({ cellar }) => void Object.assign(cellar, { isOff: true })],
      [10, bucket(22)],
      [1810, ({ cellar }) => void Object.assign(cellar, { isOff: false })],
    ]);
    expect(wakes(acted)).toEqual([]);
    expect(last(acted)).toBe("use");
  });
});
