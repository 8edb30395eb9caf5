import { describe, expect, it } from "vitest";
import { type Life, live } from "./outside-life.ts";
import { act, at, type Does, epochMs, kits, restart } from "./outside-plans.ts";

// A drum of straight walls, 200 L a metre, with a sensor at its bottom: it reads the weight of what stands over it.
const squareMetres = 0.2;
const gravity = 9.80665;
const freshKgPerL = 0.9982;

const lineOf = (kit: string) =>
  kit
    .replace(
      "fed_by: after-resin,",
      "fed_by: after-resin, control: manual, holds: salt, target: { salinity: 35 },",
    )
    .replace("as: volume", 'as: pressure, strapping: { "0 m": "0 L", "1 m": "200 L" }');

const batch = (step: string, more: object = {}) => act({ type: "batch", drum: "tub", step, ...more });
const shut =
  (is: boolean): Does =>
  ({ tub }) => {
    tub.isShut = is;
  };
const hose =
  (perMin: number): Does =>
  ({ tub }) => {
    tub.hose = perMin;
  };

/** Salt that has dissolved at a time, kg. */
const dissolved = (kg: number, fromS: number, overS: number) => (atS: number) =>
  kg * Math.min(1, Math.max(0, (atS - fromS) / overS));

interface Salted {
  readonly kit?: "both" | "level";
  readonly kg: (atS: number) => number;
  readonly does: readonly (readonly [atS: number, does: Does])[];
  readonly hours?: number;
}

/** Emptied, filled up to its float by a person and salted as the plan says. */
function salted({ kit = "level", kg, does, hours = 4 }: Salted) {
  const weighs: Does = ({ tubs, tub }: Life) => {
    tubs.alter = (records, atS) =>
      records.map((one) => {
        if (one.n !== "level-tub") return one;
        const massKg = (one.v as number) * 1000 * freshKgPerL + kg(atS);
        return { ...one, u: "Pa", v: (massKg * gravity) / squareMetres };
      });
    tub.isShut = true;
  };
  const life = live({
    line: lineOf(kits[kit]),
    toS: hours * 3600,
    tubs: { tub: { litres: 2, dose: 2 } },
    events: [
      at(0, weighs),
      at(6, act({ type: "release", drum: "tub", reason: "dumped" })),
      at(60, act({ type: "fill-started", drum: "tub" })),
      at(61, shut(false)),
      at(2800, shut(true)),
      ...does,
    ],
  });
  const fillsAfter = life.fills.filter(({ startedAtMs }) => startedAtMs > epochMs(3000));
  return { life, fillsAfter, keys: life.calls.map(({ key }) => key) };
}

/** Litres that came in by a hose before somebody was called. */
function untoldL({ life }: ReturnType<typeof salted>, fromS: number): number {
  const call = life.calls.find(({ atS, key }) => atS >= fromS && key.startsWith("unplanned-inflow"));
  const before = life.samples.findLast(({ atS }) => atS <= fromS)?.litres.tub ?? Number.NaN;
  return call ? (call.holds.tub ?? Number.NaN) - before : Number.POSITIVE_INFINITY;
}

describe("salt that dissolves under a level by pressure", () => {
  // Of 6.3 kg in 178 L the sensor reads 6.3 L of fresh water more, and not a drop came in.
  it.each(["level", "both"] as const)("is no inflow, with %s", (kit) => {
    const lived = salted({
      kit,
      kg: dissolved(6.3, 3610, 1200),
      does: [
        at(3600, batch("salted", { kg: 6.3 })),
        at(3700, batch("mixing")),
        at(9000, batch("ready", { salinity: 35 })),
      ],
    });
    expect(lived.life.refused.filter((why) => why !== null)).toEqual([]);
    expect(lived.keys).toEqual([]);
    expect(lived.fillsAfter).toEqual([]);
    expect(lived.life.samples.at(-1)?.word.tub).toBe("use");
  });

  // A level that waves: what the density takes off at once and the salt brings back was taken for a draw, and water unseen.
  it.each(["level", "both"] as const)(
    "leaves the word alone under a level with 1 L of noise, with %s",
    (kit) => {
      const noisy: Does = (life) => Object.assign(life, { levelNoise: 1 });
      const salt = [at(3600, batch("salted", { kg: 6.3 })), at(10_000, batch("ready", { salinity: 35 }))];
      const lived = salted({ kit, kg: dissolved(6.3, 3600, 1200), does: [at(0, noisy), ...salt] });
      expect(lived.life.samples.at(-1)?.word.tub).toBe("use");
    },
  );

  // A sack that goes in at once displaces water before it dissolves: some 3 L from one reading to the next.
  it("is none where it is poured in at once, nor where nobody says how much it was", () => {
    const lived = salted({
      kg: (atS) => dissolved(3, 3610, 5)(atS) + dissolved(3.2, 3700, 120)(atS),
      does: [at(3600, batch("salted")), at(9000, batch("ready", { salinity: 35 }))],
    });
    expect(lived.keys).toEqual([]);
    expect(lived.fillsAfter).toEqual([]);
  });

  it("is none in two portions, with the gateway away in the middle of each", () => {
    const lived = salted({
      kg: (atS) => dissolved(3.2, 3610, 1200)(atS) + dissolved(3.1, 5210, 1200)(atS),
      does: [
        at(3600, batch("salted", { kg: 3.2 })),
        at(4200, restart(20)),
        at(5200, batch("salted", { kg: 3.1 })),
        at(5800, restart(90)),
        at(9600, batch("ready", { salinity: 35 })),
      ],
    });
    expect(lived.life.refused.filter((why) => why !== null)).toEqual([]);
    expect(lived.keys).toEqual([]);
    expect(lived.fillsAfter).toEqual([]);
  });

  // Nobody knew of it: its rise passed for water. Entered late it is taken, and what it still does is no water.
  it("is over as inflow once it is entered, half an hour late", () => {
    const lived = salted({
      kg: dissolved(6.3, 3600, 3000),
      does: [at(5400, batch("salted", { kg: 6.3 })), at(9600, batch("ready", { salinity: 35 }))],
    });
    expect(lived.life.refused.filter((why) => why !== null)).toEqual([]);
    const [late, ...more] = lived.fillsAfter;
    expect(more).toEqual([]);
    if (late) expect(late.endedAtMs).toBeLessThan(epochMs(5700));
    expect(lived.life.calls.filter(({ atS }) => atS >= 5400)).toEqual([]);
  });

  // What has dissolved was the salt's: all the rest is water, and 2 % of the drum are seen.
  it.each(["level", "both"] as const)("hides no water that runs in once it has dissolved, with %s", (kit) => {
    const lived = salted({
      kit,
      kg: dissolved(6.3, 3610, 1200),
      does: [at(3600, batch("salted", { kg: 6.3 })), at(7200, hose(0.5)), at(9000, hose(0))],
    });
    expect(untoldL(lived, 7200)).toBeLessThan(6);
  });

  // At the worst it takes the water for the salt, and the salt for water afterwards.
  it.each(["level", "both"] as const)("hides no more than 10 L while it dissolves, with %s", (kit) => {
    const lived = salted({
      kit,
      kg: dissolved(6.3, 3610, 3600),
      does: [at(3600, batch("salted", { kg: 6.3 })), at(3620, hose(1)), at(5420, hose(0))],
    });
    expect(untoldL(lived, 3620)).toBeLessThan(10);
  });

  it("is asked nothing where a meter counts: that water is told at once", () => {
    const lived = salted({
      kit: "both",
      kg: () => 0,
      does: [
        at(3600, batch("salted", { kg: 6.3 })),
        at(3620, ({ tub }) => Object.assign(tub, { isShut: false, contact: () => false })),
        at(3900, shut(true)),
      ],
    });
    expect(untoldL(lived, 3620)).toBeLessThan(5);
  });
});
