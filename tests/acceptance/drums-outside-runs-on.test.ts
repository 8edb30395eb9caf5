// A meter goes on counting when a drum is full: it is stuck, or water runs elsewhere, or the valve passes. What stands before a full
// drum is no water of it; what runs into it is. Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Life } from "./outside-life.ts";
import {
  at,
  drawn,
  draws,
  kits,
  released,
  saidUseOver,
  says,
  usual,
  usualS,
  words,
} from "./outside-plans.ts";

type Events = Parameters<typeof usual>[2];
const firstIs = (first: number) =>
  at(0, ({ house }) => {
    house.first = first;
  });
const sticksAt4 = at(120, ({ press }) => {
  press.alter = says("flow-1", { v: 4 / 60_000 }, () => true);
});
const tub = (given: object) => (life: Life) => Object.assign(life.tub, given);
const lived = (events: Events, { line = kits.both, everyS = 5 } = {}) =>
  usual(
    line,
    2,
    [at(10, drawn(22)), ...events],
    [
      released(),
      ...draws(22),
      at(0, ({ press, tubs }) => {
        press.everyS = everyS;
        tubs.everyS = everyS;
      }),
    ],
  );
const breakthroughs = ({ changes }: ReturnType<typeof lived>) =>
  changes.filter((change) => change.includes("resin-breakthrough") && change.includes("raised"));

describe("a meter stuck at 4 L/min, while float and level say that the drum stands", () => {
  it.each([
    [6, 5],
    [20, 5],
    [20, 15],
  ])(
    "what stands at the probe goes to %i uS/cm, a pack each %i s: no call for it, and it may be used",
    (first, everyS) => {
      const told = lived([firstIs(first), sticksAt4], { everyS });
      expect(words(told, "tub", usualS)).toEqual(["use"]);
      expect(breakthroughs(told)).toEqual([]);
      expect(told.changes.some((change) => change.includes("flow-disagrees:tub"))).toBe(true);
    },
  );
  it("… also after somebody has drawn 10 L, and the float still hangs wet", () => {
    const told = lived([firstIs(20), sticksAt4, at(1800, drawn(10))]);
    expect(words(told, "tub", usualS)).toEqual(["use"]);
    expect(breakthroughs(told)).toEqual([]);
  });
});

describe("water that does run when the float is wet, and is bad", () => {
  const bad = at(700, ({ house }) => {
    house.good = 60;
  });
  it.each([
    ["its valve passes 2 L/min from the trip on", [at(120, tub({ leak: 2 })), bad]],
    ["it passes once its level has come to rest", [at(900, tub({ leak: 2 })), bad]],
    ["… beside a meter that has never stopped", [sticksAt4, at(1200, tub({ leak: 2 })), bad]],
    // It rests 4 L over its trip: at an edge that lies lower than the line says.
    ["it hangs open and runs over at 184 L", [at(120, tub({ isStuckOpen: true, brim: 184 })), bad]],
  ] as [string, Events][])("%s: never use over bad water, and a hold", (_says, events) => {
    const told = lived(events);
    expect(told.samples.at(-1)?.blend.tub).toBeGreaterThan(11);
    expect(saidUseOver(told, 11)).toBe(0);
    expect(words(told).at(-1)).toBe("hold");
  });
});

it("behind a meter with taps, water that runs to one of them is judged, and the drum's is not", () => {
  const told = lived([firstIs(20), sticksAt4], {
    line: kits.both.replace("flow: press/flow-1", "flow: { channel: press/flow-1, taps: true }"),
  });
  expect(breakthroughs(told)).toHaveLength(1);
  expect(words(told, "tub", usualS)).toEqual(["use"]);
});
