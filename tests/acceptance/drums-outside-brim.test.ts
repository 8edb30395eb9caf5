// One of two drums behind a meter stands at its brim, its valve stuck open, while the other fills: what runs over its edge is
// no water of the other's. Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Life } from "./outside-life.ts";
import { at, drawn, epochMs, kits, released, usual, usualS, words } from "./outside-plans.ts";

type Events = Parameters<typeof usual>[2];
const two = { tubs: { a: {}, b: {} } };
const before: Events = [
  released(1, "a"),
  released(1, "b"),
  ...["a", "b"].flatMap((name, second) =>
    [22, 38, 24, 41, 18, 36].map((litres, fill) =>
      at(600 + second * 700 + fill * 1500, drawn(litres, 22, name)),
    ),
  ),
];
const of = (name: string, given: object) => (life: Life) => Object.assign(life.house.tubs[name] ?? {}, given);
const withOverflow = (line: string) =>
  ["a", "b"].reduce(
    (all, name) =>
      all.replace(
        `stop: tubs/stop-${name}`,
        `stop: tubs/stop-${name}, floats: { overflow: tubs/over-${name} }`,
      ),
    line,
  );
const lineOf = { levels: kits.twoBoth, overflows: withOverflow(kits.twoMeter) };
type Kit = keyof typeof lineOf;
const stuck = at(120, of("b", { isStuckOpen: true }));
const shutAt = (atS: number) => at(atS, of("b", { isStuckOpen: false, isShut: true }));
const callsAt = 1800;

/** What is told of the fill that the other one has of 60 L, and what ran into both since the plan's begin. */
function lived(kit: Kit, events: Events) {
  const told = usual(lineOf[kit], 1.5, [...events, at(callsAt, drawn(60, 22, "a"))], before, two);
  const own = told.fills.filter(({ startedAtMs }) => startedAtMs > epochMs(usualS));
  const litresOf = (name: string) =>
    own.filter(({ drum }) => drum === name).reduce((sum, { litres }) => sum + (litres ?? Number.NaN), 0);
  const later = told.changes
    .map((change) => change.split(" ") as [string, string, string, string])
    .filter(([atS]) => Number(atS) > usualS)
    .map(([atS, key, why, attention]) => ({ atS: Number(atS) - usualS, key, why, attention }));
  const stops = (drum: string) =>
    later.filter(({ key, why }) => key === `drum-not-stopping:${drum}` && why !== "returned");
  return {
    ...told,
    own,
    litresOf,
    later,
    stops,
    cameIn: (name: string) => told.house.tubs[name]?.cameIn ?? 0,
  };
}

/** What had run into each of them before, L. */
const beforeL = 194.07;

describe.each([
  ["stuck open behind a wet float", stuck],
  ["a float that hangs dry", at(120, of("b", { contact: () => false }))],
])("%s", (_says, event) => {
  it.each(["levels", "overflows"] as const)("by %s: the other has its own 60 L", (kit) => {
    const told = lived(kit, [event]);
    expect(told.cameIn("a") - beforeL).toBeCloseTo(60, 0);
    // Both run at 4 L/min: by levels 4 of 8, without them in equal parts. Put together, and it says so.
    expect(Math.abs(told.litresOf("a") - 60)).toBeLessThan(3);
    expect(told.own.filter(({ drum }) => drum === "a").map(({ estimated }) => estimated)).toEqual([true]);
  });
  it.each(["levels", "overflows"] as const)(
    "by %s: of the other nobody is woken, once its neighbour is known to run over",
    (kit) => {
      const told = lived(kit, [event]);
      const overS = 300 + 120;
      expect(told.stops("a").filter(({ atS, attention }) => atS > overS || attention !== "tell!")).toEqual(
        [],
      );
      expect(told.later.some(({ key, attention }) => key.endsWith(":b") && attention === "wake!")).toBe(true);
      expect(words(told, "a").at(-1)).toBe("use");
    },
  );
});

describe("its valve is closed at last", () => {
  it.each(["levels", "overflows"] as const)(
    "by %s, before the other calls: what it took stands in its fill, all the rest is the other's",
    (kit) => {
      const told = lived(kit, [stuck, shutAt(1200)]);
      // 1,080 s at 4 L/min.
      expect(Math.abs(told.litresOf("b") - 72)).toBeLessThan(1.5);
      expect(Math.abs(told.litresOf("a") - 60)).toBeLessThan(1);
      expect(told.own.map(({ drum, estimated }) => [drum, estimated])).toEqual([
        ["b", false],
        ["a", false],
      ]);
      // A level at the brim shows nothing of what runs over: that contradicts no meter.
      expect(told.later.filter(({ key }) => key.startsWith("flow-disagrees"))).toEqual([]);
    },
  );
  it("by levels, while the other fills: each has its own, and there is no fill of nothing", () => {
    const told = lived("levels", [stuck, shutAt(2200)]);
    expect(Math.abs(told.litresOf("b") - 138.7)).toBeLessThan(3);
    expect(Math.abs(told.litresOf("a") - 60)).toBeLessThan(2);
    expect(told.own).toHaveLength(2);
  });
});

it("an overflow that trips its own stop float late has shut: all that runs on is the other's", () => {
  const late = [
    // It trips at 194 L, over its overflow's 192: what runs then runs for the other, which has called since.
    at(100, of("b", { trip: 194 })),
    at(1500, drawn(40, 22, "b")),
  ];
  const told = lived("overflows", late);
  expect(told.stops("a")).toEqual([]);
  const parts = told.litresOf("a") + told.litresOf("b");
  expect(Math.abs(parts - (told.cameIn("a") + told.cameIn("b") - 2 * beforeL))).toBeLessThan(2);
  expect(Math.abs(told.litresOf("a") - (told.cameIn("a") - beforeL))).toBeLessThan(4);
});
