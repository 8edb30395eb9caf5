// What a fill tells of its litres, and of how much of them was seen, where one end of it lies in a silence; against a house
// that shares no code with the rules. Each expectation was written down from the physics before its mend: a fill of 22 L at
// 4 L/min, of which nobody heard the rest.
import { describe, expect, it } from "vitest";
import {
  at,
  away,
  back,
  counting,
  drawn,
  draws,
  isFillingAt,
  kits,
  released,
  restart,
  usual,
  when,
  words,
} from "./outside-plans.ts";

const pressDies = ({ press }: Parameters<typeof away>[0]) => {
  press.carry = () => {};
};
const tubsDie = ({ tubs }: Parameters<typeof away>[0]) => {
  tubs.carry = () => {};
};
type Does = Parameters<typeof at>[1];
/** A draw, and what befalls the house once its fill is at so many litres. */
const inFill = (line: string, litres: number, ...does: Does[]) =>
  usual(line, 0.8, [at(0, drawn(22)), ...does.flatMap((one) => when(100, isFillingAt(litres), one))]);

describe("a fill of which a part was heard by nobody", () => {
  it.each([
    ["the node of probes and meter dies, its float trips later", kits.meter, 164, pressDies, 0.24],
    ["both nodes die", kits.meter, 164, away, 0.24],
    ["both nodes die, beside a level", kits.both, 164, away, 0.24],
    ["probes and meter die, its level rises on", kits.both, 164, pressDies, 0.24],
    ["the gateway is down over its end", kits.meter, 176, restart(480), 0.79],
    [
      "the gateway is down over its end, and a level stands when it is back",
      kits.both,
      176,
      restart(480),
      0.79,
    ],
  ] as const)(
    "%s: put together, within a tenth, and not said to be seen",
    (_says, line, litres, does, seen) => {
      const fill = inFill(line, litres, does).fills.at(-1);
      expect(fill?.estimated).toBe(true);
      expect(Math.abs((fill?.litres ?? 0) - 22)).toBeLessThan(2.2);
      expect(Math.abs((fill?.watched ?? 1) - seen)).toBeLessThan(0.06);
      expect(Math.abs((fill?.known ?? 1) - seen)).toBeLessThan(0.06);
    },
  );

  it("its level's node dies: put together, and seen by the probe", () => {
    const fill = inFill(kits.level, 164, tubsDie).fills.at(-1);
    expect(fill).toMatchObject({ estimated: true });
    expect(Math.abs((fill?.litres ?? 0) - 22)).toBeLessThan(2.2);
    expect(fill?.watched).toBeGreaterThan(0.95);
  });

  it("the gateway is down over its begin", () => {
    const fill = usual(kits.meter, 0.8, [at(0, drawn(22)), at(30, restart(200))]).fills.at(-1);
    expect(fill?.estimated).toBe(true);
    expect(Math.abs((fill?.litres ?? 0) - 22)).toBeLessThan(2.2);
    expect(fill?.watched).toBeLessThan(0.6);
  });

  it("a meter that counts by itself tells of the silence: nothing is put to that", () => {
    const events = [at(0, drawn(22)), ...when(100, isFillingAt(176), restart(480))];
    const lived = usual(kits.meter, 0.8, events, [counting, released(), ...draws(22)]);
    expect(Math.abs((lived.fills.at(-1)?.litres ?? 0) - 22)).toBeLessThan(0.5);
    expect(lived.fills.at(-1)?.watched).toBeLessThan(0.85);
  });

  it("what the nodes had kept comes later: counted and seen, nothing is put to it", () => {
    const kept: (() => void)[] = [];
    const keeps: Does = ({ press, tubs }) => {
      for (const board of [press, tubs])
        board.carry = (records, send) => kept.push(() => send(records)) && undefined;
    };
    const sends: Does = (life, atS) => {
      back(life, atS);
      for (const one of kept.splice(0)) one();
    };
    const events = [at(0, drawn(22)), ...when(100, isFillingAt(176), keeps), at(1500, sends)];
    const lived = usual(kits.meter, 1, events);
    const fill = lived.fills.at(-1);
    expect(Math.abs((fill?.litres ?? 0) - 22)).toBeLessThan(0.5);
    expect(fill?.watched).toBeGreaterThan(0.97);
  });

  it("what a silence hid is not booked twice: as many good fills as before bring the word back", () => {
    const lived = usual(kits.meter, 8, [
      at(0, drawn(22)),
      ...when(100, isFillingAt(176), restart(480)),
      ...draws(22, { fromS: 1500, everyS: 1200, times: 20 }),
    ]);
    expect(words(lived).at(-1)).toBe("use");
  });
});

describe("two drums behind one meter, no level", () => {
  const two = { tubs: { a: {}, b: { litres: 180, isFloatWet: true } } };
  const before = [
    released(),
    released(1, "b"),
    ...draws(22, { name: "a" }),
    ...draws(22, { name: "b", fromS: 1200 }),
  ];
  it("one leaks while the other fills: litres of which nobody knows whose they were are put together", () => {
    const leaks = at(0, ({ house }) => {
      Object.assign(house.tubs.a ?? {}, { leak: 2 });
    });
    const lived = usual(kits.twoMeter, 0.5, [leaks, at(300, drawn(40, 22, "b"))], before, two);
    const fills = lived.fills.filter(({ drum }) => drum === "b");
    expect(fills.at(-1)).toMatchObject({ estimated: true });
    expect(fills.slice(0, -1).map(({ estimated }) => estimated)).toEqual(Array(6).fill(false));
  });
});
