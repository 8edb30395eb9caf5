// Behind slow water a large change at noon takes hours, and stands for a while in the middle of it: a habit by the second
// day. Written down before the first run.
import { describe, expect, it } from "vitest";
import { type Life, live } from "./outside-life.ts";
import { act, at, drawn, draws, epochMs, kits, released, usual, usualS } from "./outside-plans.ts";

const dayS = 86_400;
/** Nodes speak every 30 s; the line gives 1 L/min. */
const slow = at(0, (life) => {
  life.house.flowPerMin = 1;
});
const shut =
  (is: boolean) =>
  ({ house }: Life) => {
    house.isSupplyShut = is;
  };
/** 102 L are drawn at once; half an hour on the supply is shut for 10 min. */
const change = (atS: number) => [
  at(atS, drawn(102, 34)),
  at(atS + 2400, shut(true)),
  at(atS + 3000, shut(false)),
];
const noonS = 8 * 3600;
const days = (line: string, many: number, more: Parameters<typeof usual>[2] = []) =>
  live({
    line,
    everyS: 30,
    toS: (many - 1) * dayS + noonS + 3.5 * 3600,
    events: [
      slow,
      released(),
      ...Array.from({ length: many }, (_, day) => [
        ...draws(22, { fromS: day * dayS + 600, everyS: 3000 }),
        ...change(day * dayS + noonS),
      ]).flat(),
      ...more,
    ],
  });
const longsOf = ({ bench }: ReturnType<typeof days>) =>
  bench
    .alarms()
    .flatMap(({ alarm, why }) =>
      alarm.condition === "fill-long" && (why === "raised" || why === "re-raised") ? [alarm.raisedAtMs] : [],
    );

describe("a change of water at noon that stands for a while", () => {
  it.each([
    ["level", kits.level],
    ["meter", kits.meter],
  ])("%s: is a habit by the second day: no fill of that time of day is too long", (_kit, line) => {
    const lived = days(line, 2);
    const begin = Date.UTC(2026, 2, 3, 4) + 2 * 3600 * 1000;
    expect(lived.fills.filter(({ litres }) => (litres ?? 0) > 90)).toHaveLength(2);
    expect(longsOf(lived).map((ms) => Math.floor((ms - begin) / (dayS * 1000)))).toEqual([0]);
    expect(lived.calls.filter(({ attention }) => attention === "wake")).toEqual([]);
  });

  it("whose float then hangs dry wakes before the brim all the same", () => {
    const lived = days(kits.level, 2, [
      at(dayS + noonS + 60, ({ tub }) => {
        tub.contact = () => false;
      }),
    ]);
    const [first] = lived.calls.filter(({ attention }) => attention === "wake");
    expect(first).toMatchObject({ key: "drum-not-stopping:tub", floor: 0 });
  });
});

describe("more is drawn in a fill than has come in again", () => {
  it("the level counts what comes in, and the fill is judged by that", () => {
    const lived = usual(kits.level, 1, [at(0, drawn(22)), at(150, drawn(30, 30))]);
    expect(lived.fills.at(-1)?.end).toBe("float-tripped");
    expect(longsOf(lived)).toEqual([]);
    expect(lived.refused).toEqual([null]);
  });

  it("by hand, for good, since its drain stands open: it is told by its time", () => {
    const valve =
      (isShut: boolean) =>
      ({ tub }: Life) =>
        Object.assign(tub, { isShut });
    const begins = act({ type: "fill-started", drum: "tub" });
    const filled = (atS: number) => [at(atS, drawn(22)), at(atS + 120, begins), at(atS + 122, valve(false))];
    const before = Array.from({ length: 6 }, (_, n) => [
      ...filled(600 + n * 1500),
      at(1500 + n * 1500, valve(true)),
    ]).flat();
    const drains = at(180, ({ tub }) => tub.draws.push({ perMin: 5.2, left: 1000 }));
    const byHand = kits.both.replace("fed_by: after-resin,", "fed_by: after-resin, control: manual,");
    const lived = usual(byHand, 1, [...filled(0), drains], [at(0, valve(true)), released(), ...before]);
    const [first] = longsOf(lived);
    // The first of the six brought 37 L: 9.3 min.
    expect(first).toBeLessThan(epochMs(usualS + 122 + 1.2 * 9.3 * 60 + 60));
  });
});
