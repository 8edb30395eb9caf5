// Stories of a cellar by a model of its own. Each stands as it was written down before its first run, or says what was wrong with it.
import { describe, expect, it } from "vitest";
import type { Deed } from "./cellar-life.ts";
import {
  at,
  be,
  began,
  bucket,
  expectWokenDry,
  fillsTo,
  kits,
  once,
  slow,
  story,
  T,
  told,
  tripped,
} from "./cellar-plans.ts";

describe("a stop that fails", () => {
  it("1 meter: the valve stays open after the trip", () => {
    let tripS = 0;
    const acted = story(kits.meter, 25, [
      [0, bucket(22)],
      ...once(60, tripped, (world, atS) => {
        tripS = atS;
        world.vat.held = "open";
      }),
    ]);
    expectWokenDry(acted);
    expect(at(acted, "drum-not-stopping") - tripS).toBeGreaterThan(100);
    expect(at(acted, "drum-not-stopping") - tripS).toBeLessThan(165);
  });
  const dry = (): Deed[] => [[0, bucket(22)], ...once(60, fillsTo(170), be({ contact: false }))];
  it("2 meter: the float never trips", () => {
    const acted = story(kits.meter, 20, dry());
    expect(told(acted, "fill-long", "tell")[0]?.spilt).toBe(0);
  });
  it("3 level: the float never trips", () => expectWokenDry(story(kits.level, 20, dry())));
  it("4 both: the valve stays open, the meter has stuck at 0", () => {
    const acted = story(kits.both, 25, [
      [0, bucket(22)],
      ...once(60, fillsTo(165), ({ cellar }) => void Object.assign(cellar, { counts: 0 })),
      ...once(60, tripped, be({ held: "open" })),
    ]);
    expectWokenDry(acted);
  });
  it("5 float: it never trips", () => {
    const acted = story(kits.float, 20, dry());
    expect(told(acted, "fill-long", "tell")[0]?.spilt).toBe(0);
  });
  it("6 overflow float: the stop never trips", () => {
    const acted = story(kits.overflow, 20, dry());
    expect(told(acted, "drum-high-high", "wake")[0]?.spilt).toBe(0);
  });
  it("7 meter: it seeps 0.7 L/min after a trip", () => {
    expectWokenDry(story(kits.meter, 45, [[0, bucket(22)], ...once(60, tripped, be({ seep: 0.7 }))]));
  });
  it("8 both: it seeps 0.3 L/min", () => {
    const acted = story(kits.both, 80, [[0, bucket(22)], ...once(60, tripped, be({ seep: 0.3 }))]);
    const first = acted.told.find((one) => one.atS >= T);
    expect(first?.spilt).toBe(0);
  });
  it("25 two drums on one meter: b's valve stays open after its trip", () => {
    let tripS = 0;
    const acted = story(
      kits.two,
      25,
      [
        [0, bucket(22, 20, "b")],
        ...once(
          60,
          ({ cellar: { vats } }) => vats.b?.wet === true && vats.b.valve > 0,
          (world, atS) => {
            tripS = atS;
            be({ held: "open" }, "b")(world, atS);
          },
        ),
      ],
      { vats: { a: {}, b: {} } },
      began(["a", "b"]),
    );
    expectWokenDry(acted);
    expect(at(acted, "drum-not-stopping") - tripS).toBeLessThan(185);
  });
  it("28 membrane: the valve stays open after the trip", () => {
    const acted = story(
      kits.membrane,
      120,
      [[0, bucket(7)], ...once(60, tripped, be({ held: "open" }))],
      slow,
      began([""], 7).map(([atS, does]): Deed => [atS > 90 ? 700 + (atS - 700) * 1.6 : atS, does]),
    );
    expectWokenDry(acted);
  });
});
