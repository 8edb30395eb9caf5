// Two drums with levels behind one meter that call at the same time: each has its own litres, whatever a draw hides from its
// level, and what a valve lets pass is seen beside the other's fill. Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Life } from "./outside-life.ts";
import {
  at,
  callsOf,
  drawn,
  epochMs,
  kits,
  litresOff,
  released,
  saidUseOver,
  usual,
  usualS,
  words,
} from "./outside-plans.ts";

type Events = Parameters<typeof usual>[2];
const goodIs =
  (good: number) =>
  ({ house }: Life) =>
    Object.assign(house, { good });
const two = { tubs: { a: {}, b: {} } };
const drawnFrom = (name: string, laterS: number): Events =>
  [12, 38, 24, 41, 18, 36].map((litres, fill) => at(600 + laterS + fill * 1500, drawn(litres, 22, name)));
/** Six draws from each; those of the second begin while the first still fills. */
const before: Events = [released(1, "a"), released(1, "b"), ...drawnFrom("a", 0), ...drawnFrom("b", 700)];
const speaking = (everyS: number) =>
  at(0, ({ press, tubs }) => {
    press.everyS = everyS;
    tubs.everyS = everyS;
  });
const both = (events: Events, everyS = 5, hours = 0.8) =>
  usual(kits.twoBoth, hours, events, [speaking(everyS), ...before], two);

describe("what a meter counts for two drums that are drawn at once", () => {
  it.each([5, 15, 30])(
    "a pack each %i s: each has what came into it, and no drum a fill of nothing",
    (everyS) => {
      const lived = both([], everyS, 0.1);
      for (const name of ["a", "b"]) {
        // Of 170 L some 50 came in while both called; an edge is read a reading late: at 30 s some 2 L, three times.
        expect(litresOff(lived, name), name).toBeLessThan(everyS < 30 ? 2 : 6);
        expect(words(lived, name).at(-1), name).toBe("use");
      }
      expect(lived.fills.map(({ litres }) => litres ?? 0).every((litres) => litres > 5)).toBe(true);
      expect(callsOf(lived)).toEqual([]);
    },
  );

  it("one calls and its inlet is shut: nothing of the other's water is its own", () => {
    const shut = at(0, ({ house }) => {
      Object.assign(house.tubs.b ?? {}, { isShut: true });
    });
    const lived = both([shut, at(0, drawn(38, 22, "a")), at(60, drawn(38, 22, "b"))]);
    const own = lived.fills.filter(({ drum, startedAtMs }) => drum === "b" && startedAtMs > epochMs(usualS));
    // While both are drawn from, and neither level can tell, what runs counts in equal parts: 40 s at 4 L/min.
    expect(own.reduce((sum, { litres }) => sum + (litres ?? 0), 0)).toBeLessThan(3);
    expect(litresOff(lived, "a")).toBeLessThan(3);
    expect(lived.changes.some((change) => change.includes("no-inflow:b raised"))).toBe(true);
  });
});

const of = (name: string, given: object) => (life: Life) => Object.assign(life.house.tubs[name] ?? {}, given);

describe("a drum of which nothing is heard", () => {
  it("while both fill with bad water: what runs past the meter may run into it", () => {
    const unheard = at(0, ({ tubs }) => {
      tubs.alter = (records, atS) =>
        atS < usualS + 1500 ? records.filter(({ n }) => !String(n).includes("-b")) : records;
    });
    const bad = [at(150, goodIs(60)), at(700, goodIs(0.2))];
    const lived = both([unheard, at(100, drawn(60, 22, "a")), at(120, drawn(60, 22, "b")), ...bad]);
    expect(lived.samples.at(-1)?.blend.b).toBeGreaterThan(11);
    expect(saidUseOver(lived, 11, "b")).toBe(0);
    expect(words(lived, "b").at(-1)).toBe("hold");
  });
});

describe("a valve that passes while the other drum fills", () => {
  const stuck = at(120, of("b", { isStuckOpen: true }));
  const hangs = at(120, of("b", { contact: () => false }));
  it.each([
    ["2 L/min past a wet float, before the other calls", 150, [at(0, of("b", { leak: 2 }))]],
    ["0.8 L/min past a wet float, before the other calls", 300, [at(0, of("b", { leak: 0.8 }))]],
    ["2 L/min from its trip on", 700, [at(0, drawn(38, 22, "b")), at(400, of("b", { leak: 2 }))]],
    ["its valve hangs open", 720, [at(0, drawn(38, 22, "b")), stuck]],
    ["its float hangs dry", 720, [at(0, drawn(38, 22, "b")), hangs]],
  ] as [string, number, Events][])("%s: a wake, and no use of bad water", (_says, latestS, events) => {
    const bad = [at(380, drawn(60, 22, "a")), at(400, goodIs(60)), at(1300, goodIs(0.2))];
    const lived = both([...events, ...bad], 5, 1);
    const wake = lived.calls.find(({ attention }) => attention === "wake");
    expect(wake?.key).toBe("drum-not-stopping:b");
    expect(wake?.atS).toBeLessThan(usualS + latestS);
    for (const name of ["a", "b"]) {
      expect(saidUseOver(lived, 11, name)).toBe(0);
      expect(words(lived, name).at(-1)).toBe("hold");
    }
  });
});
