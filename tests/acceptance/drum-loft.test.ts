// What a drum's word makes of its water, by a loft of its own that counts what is truly in it. Each was written down before its first run.
import { describe, expect, it } from "vitest";
import { comes, type Deed, draw, kits, type Loft, lines, story, T, tested, undone } from "./loft-house.ts";

const draws = (times: number, everyS: number, litres: number): Deed[] =>
  Array.from({ length: times }, (_, at) => [60 + at * everyS, draw(litres)]);
const saltsIn = ({ drums: { d } }: Loft) => (d?.salts ?? 0) / (d?.litres ?? 1);
const calls = (loft: Loft) => loft.calls.filter((call) => Number.parseInt(call, 10) >= T);
/** The probe behind the column says so many times what it should. */
const reads =
  (times: number): Deed[1] =>
  (loft) => {
    loft.says = (records) =>
      records.map((one) =>
        one.n === "ec-2" ? { ...one, v: Math.round((one.v as number) * times * 1e6) / 1e6 } : one,
      );
  };

describe("resin that lets go", () => {
  it("over top-ups of 3 L each: on hold before the drum is over its band", () => {
    const spent: Deed[1] = (loft) => {
      const fromL = loft.throughL;
      loft.after = (throughL) => 0.2 + 80 / (1 + Math.exp((40 - (throughL - fromL)) / 6));
    };
    const loft = story(kits.meter, 9000, [[0, spent], ...draws(14, 600, 3)], {
      litres: 3,
      drums: { d: { dryAt: 177 } },
    });
    expect(loft.word.d).toBe("hold");
    expect(loft.poisonedS.d).toBe(0);
  });
  it("for 20 s of each minute, 60 uS/cm then: by the blend, if no run is long enough", () => {
    const byTurns: Deed[1] = (loft) => {
      loft.after = () => (loft.nowS % 60 < 20 ? 60 : 0.3);
    };
    const loft = story(kits.meter, 9500, [[0, byTurns], ...draws(6, 1500, 22)]);
    expect(loft.word.d).toBe("hold");
    expect(loft.poisonedS.d).toBeLessThan(300);
  });
  it("within its point's limit of 50 and over the drum's band of 10", () => {
    const loft = story(kits.limit50, 7500, [[0, comes(30)], ...draws(4, 1900, 22)]);
    expect(loft.word.d).toBe("hold");
    expect(loft.poisonedS.d).toBeLessThan(300);
  });
  it("a first 2.7 L of 9 uS/cm in each fill is in the blend, and nobody is called", () => {
    const first: Deed[1] = (loft) => {
      loft.after = (_, runL) => (runL < 2.7 ? 9 : 0.3);
    };
    const loft = story(kits.meter, 6500, [[0, first], ...draws(4, 1500, 22)]);
    expect([loft.word.d, calls(loft)]).toEqual(["use", []]);
  });
  it("4.6 uS/cm, under the limit of 5, for 15 fills: it may be used, and nobody is called", () => {
    const loft = story(kits.meter, 15_000, [[0, comes(4.6)], ...draws(14, 1000, 22)]);
    expect([loft.word.d, calls(loft)]).toEqual(["use", []]);
    expect(saltsIn(loft)).toBeGreaterThan(3);
  });
});

describe("a probe that is wrong", () => {
  it("reads 0.3 of it for slime: 60 uS/cm is over the limit all the same", () => {
    const loft = story(kits.meter, 1600, [[0, reads(0.3)], [0, comes(60)], ...draws(1, 1500, 22)]);
    expect(loft.word.d).toBe("hold");
  });
  it("reads a tenth (another cell): purer than water can be, it saw none of what comes", () => {
    const loft = story(kits.meter, 1600, [[0, reads(0.1)], [0, comes(0.2)], ...draws(1, 1500, 22)]);
    expect(loft.word.d).toBe("unknown");
  });
  it("its thermometer says −127 in water of 10 °C: 6.5 uS/cm at 25 °C, 4.5 as it is, is over the limit", () => {
    const cold: Deed[1] = (loft) => {
      loft.waterC = 10;
      loft.after = () => 6.5;
      loft.says = (records) => records.map((one) => (one.n === "t-2" ? { ...one, v: -127 } : one));
    };
    const loft = story(kits.meter, 1600, [[0, cold], ...draws(1, 1500, 22)]);
    expect(loft.word.d).toBe("hold");
  });
  it("the line file has it elsewhere for the length of a fill: nobody saw that one", () => {
    const loft = story(kits.meter, 3200, [
      [0, lines(kits.noProbe)],
      [60, draw(22)],
      [1500, lines(kits.meter)],
    ]);
    expect(loft.word.d).toBe("unknown");
  });
});

describe("two drums on one probe", () => {
  const drums = { a: {}, b: {} };
  it("bad water that comes while b alone fills is b's", () => {
    const deeds: Deed[] = [
      [100, draw(22, "a")],
      [900, comes(60)],
      [1000, draw(22, "b")],
      [1700, comes(0.3)],
      [2000, draw(22, "a")],
    ];
    const { a, b } = story(kits.two, 3000, deeds, { drums }).word;
    expect([a, b]).toEqual(["use", "hold"]);
  });
  it("both answered for in one second, b taken back: b alone is on hold", () => {
    const bad: Deed[] = [
      [0, comes(60)],
      [60, draw(22, "a")],
      [900, draw(22, "b")],
      [1700, comes(0.3)],
    ];
    const answered: Deed[] = [
      [1800, tested(1, "a")],
      [1800, tested(1, "b")],
      [2000, undone("b")],
    ];
    const { a, b } = story(kits.two, 2200, [...bad, ...answered], { drums }).word;
    expect([a, b]).toEqual(["use", "hold"]);
  });
});
