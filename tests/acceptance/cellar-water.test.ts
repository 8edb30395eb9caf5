// Stories of a cellar by a model of its own. Each stands as it was written down before its first run, or says what was wrong with it.
import { describe, expect, it } from "vitest";
import type { Deed } from "./cellar-life.ts";
import {
  at,
  be,
  began,
  behind,
  both,
  bucket,
  calls,
  counting,
  fillsTo,
  kits,
  last,
  once,
  slow,
  story,
  T,
  wakes,
} from "./cellar-plans.ts";

describe("water that nobody saw, or that is bad", () => {
  it("9 meter: filled by hose past its shut valve", () => {
    const acted = story(kits.meter, 40, [
      [0, be({ held: "shut" })],
      [10, bucket(25)],
      [200, ({ vat }) => void vat.past.push({ litres: 30, perMin: 30, kappa: 300 })],
      [600, be({ held: null })],
    ]);
    expect(last(acted)).not.toBe("use");
    expect(acted.useOver.vat?.[13]).toBeLessThan(300);
  });
  const hidden: Deed[] = [
    [0, both("lost")],
    [60, behind(60)],
    [70, bucket(22)],
    [1200, behind(0.3)],
    [2400, both("sent")],
  ];
  it("10 meter: a fill of 60 uS/cm while nobody is heard for 40 min", () => {
    const acted = story(kits.meter, 60, hidden);
    expect(last(acted)).toBe("unknown");
    expect(acted.words.filter(({ atS, word }) => atS > T + 300 && word === "use")).toEqual([]);
  });
  it("11 meter: the same silence, nobody draws, the nodes count", () => {
    const acted = story(
      kits.meter,
      60,
      [
        [0, both("lost")],
        [2400, both("sent")],
      ],
      {},
      [counting, ...began()],
    );
    expect(last(acted)).toBe("use");
  });
  it("12 meter: the floats' node is lost for 6 min in mid-fill", () => {
    const acted = story(kits.meter, 40, [
      [0, bucket(22)],
      ...once(60, fillsTo(170), ({ floats }) => void Object.assign(floats, { way: "lost" })),
      ...once(
        480,
        () => true,
        ({ floats }) => void Object.assign(floats, { way: "sent" }),
      ),
    ]);
    expect(wakes(acted)).toEqual([]);
    expect(acted.words.filter(({ word }) => word === "hold")).toEqual([]);
    expect(last(acted)).toBe("use");
  });
  it("13 meter: a fill of 40 uS/cm", () => {
    const acted = story(kits.meter, 25, [
      [0, behind(40)],
      [10, bucket(22)],
    ]);
    expect(at(acted, "resin-breakthrough") - T).toBeLessThan(260);
    expect(last(acted)).toBe("hold");
    expect(acted.useOver.vat?.[13]).toBe(0);
  });
  it("14 meter: 300 uS/cm from mid-fill on", () => {
    let badS = 0;
    const acted = story(kits.meter, 25, [
      [0, bucket(22)],
      ...once(60, fillsTo(170), (world, atS) => {
        badS = atS;
        world.cellar.behind = 300;
      }),
    ]);
    expect(at(acted, "resin-breakthrough") - badS).toBeLessThan(45);
  });
  it("15 meter: the probe says 0 for ever", () => {
    const zero: Deed[1] = ({ meter }) =>
      void Object.assign(meter, {
        turns: (records: Record<string, unknown>[]) =>
          records.map((one) => (one.n === "ec-2" ? { ...one, v: 0 } : one)),
      });
    const acted = story(kits.meter, 120, [
      [0, zero],
      ...[0, 1500, 3000, 4500].map((atS): Deed => [atS + 10, bucket(22)]),
    ]);
    expect(last(acted)).toBe("unknown");
    expect(acted.words.filter(({ word }) => word === "hold")).toEqual([]);
  });
  it("16 meter: a thermometer says 85.0 as its node begins", () => {
    const acted = story(kits.meter, 30, [
      [
        0,
        (world, atS) => {
          Object.assign(world.meter, { boot: 8, beganS: atS, packs: 0 });
          world.meter.turns = (records, nowS) =>
            nowS - atS < 10 ? records.map((one) => (one.n === "t-2" ? { ...one, v: 85 } : one)) : records;
        },
      ],
      [600, bucket(22)],
    ]);
    expect(calls(acted)).toEqual([]);
    expect(last(acted)).toBe("use");
  });
  it("17 meter: the probe says 500 of a feed of 400 in a fill", () => {
    const much: Deed[1] = ({ meter }) =>
      void Object.assign(meter, {
        turns: (records: Record<string, unknown>[]) =>
          records.map((one) => (one.n === "ec-2" ? { ...one, v: 0.05 } : one)),
      });
    const acted = story(kits.meter, 25, [
      [0, bucket(22)],
      [30, much],
    ]);
    const raised = acted.bench.alarms().map(({ alarm }) => alarm.condition);
    expect(raised).toContain("probe-implausible");
    expect(raised).not.toContain("resin-breakthrough");
    expect(last(acted)).not.toBe("use");
  });
  it("29 membrane: 80 uS/cm for two fills", () => {
    const acted = story(
      kits.membrane,
      100,
      [
        [0, behind(80)],
        [10, bucket(7)],
        [2600, bucket(7)],
      ],
      slow,
      began([""], 7),
    );
    expect(acted.told.filter(({ atS }) => atS >= T).length).toBeGreaterThan(0);
    expect(last(acted)).not.toBe("use");
  });
});
