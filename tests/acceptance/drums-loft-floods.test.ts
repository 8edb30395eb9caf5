// A loft by a model of its own: stops that fail in houses that something else happens to as well. Each stands as it was written
// down before its first run, or says what was wrong with it.
import { describe, expect, it } from "vitest";
import { beginMs } from "./line-bench.ts";
import type { Deed, Lived } from "./loft-life.ts";
import {
  boards,
  boots,
  expectWokenDry,
  fillsAt,
  firstLoud,
  gatewayOff,
  hangs,
  kits,
  on,
  T,
  take,
  tale,
  tap,
  trips,
  valve,
  wakes,
  when,
} from "./loft-plans.ts";

const hung = (litres = 165): Deed[] => [[0, take(22)], ...when(60, fillsAt(litres), hangs(false), 600)];
const stuck = (): Deed[] => [[0, take(22)], ...when(60, trips, valve("open"), 900)];
const pair = { butts: { a: {}, b: {} }, valves: [["a", "b"]] };
const every = (everyS: number, times: number, does: (turn: number) => Deed[1]): Deed[] =>
  Array.from({ length: times }, (_, turn): Deed => [turn * everyS, does(turn)]);

describe("two butts on one valve, which opens while either float hangs down", () => {
  it("levels: the full one is filled past its float, and that is told before its edge", () =>
    expectWokenDry(
      tale(
        kits.twoLevels,
        12,
        [[0, take(22, 20, "a")], ...when(100, fillsAt(165), hangs(false, "a"), 400)],
        pair,
      ),
    ));
  it("the wheel alone: told with less than 15 L on the floor", () => {
    const told = tale(
      kits.two,
      20,
      [[0, take(22, 20, "a")], ...when(100, fillsAt(165), hangs(false, "a"), 400)],
      pair,
    );
    expect(firstLoud(told)?.floor).toBeLessThan(15);
  });
});

it("a float chatters in step with the packs, which always see it up, and its valve is open half of the time", () => {
  const flutter = ({ butt }: Lived) =>
    Object.assign(butt, { wire: (_: boolean, atS: number) => [3, 4, 0].includes(atS % 5) });
  expectWokenDry(tale(kits.wheel, 12, [[0, take(22)], ...when(60, trips, flutter, 600)]));
});

it("its butt gets another name in mid-fill, and the valve sticks: woken within 3 min of the trip", () => {
  const renamed = ({ bench }: Lived, atS: number) => bench.line(kits.wheel.replace("butt:", "keg:"), atS);
  const told = tale(kits.wheel, 12, [...stuck(), ...when(60, fillsAt(166), renamed, 600)]);
  expectWokenDry(told);
  expect(wakes(told)[0]).toMatchObject({ what: "drum-not-stopping:keg" });
  // It trips 397 s after the draw.
  expect(wakes(told)[0]?.atS).toBeLessThan(T + 397 + 180);
});

it("the floats' board is exchanged over the trip, another boot that counts from 0, and the valve sticks: woken within 5 min", () => {
  let backS = 0;
  const told = tale(kits.wheel, 16, [
    ...stuck(),
    ...when(60, fillsAt(177), boards("off", ["floats"]), 600),
    ...when(
      60,
      ({ loft }) => loft.valves[0]?.stuck === "open",
      (_, atS) => {
        backS = atS + 60;
      },
      900,
    ),
    ...when(
      60,
      ({ loft }) => backS > 0 && loft.atS === backS,
      (life, atS) => {
        life.butt.edges = 0;
        boots(900, ["floats"])(life, atS);
      },
      900,
    ),
  ]);
  expectWokenDry(told);
  expect(wakes(told)[0]?.atS).toBeLessThan(backS + 300);
});

describe("what begins anew again and again", () => {
  it.each(["wheel", "level"] as const)("%s: the gateway, each 90 s: woken dry", (kit) =>
    expectWokenDry(
      tale(kits[kit], 13, [...(kit === "wheel" ? stuck() : hung()), ...every(90, 8, () => gatewayOff(20))]),
    ),
  );
  it("the wheel's board, each 22 s: woken dry", () =>
    expectWokenDry(
      tale(kits.wheel, 13, [...stuck(), ...every(22, 35, (turn) => boots(100 + turn, ["wheel"]))]),
    ));
});

it("as much is taken for 40 min as comes in, and the float hangs: nobody is woken while it is, and before the edge then", () => {
  const told = tale(kits.level, 52, [...hung(163), ...when(60, fillsAt(163), take(160, 4), 600)]);
  expectWokenDry(told);
  expect(wakes(told)[0]?.atS).toBeGreaterThan(T + 2500);
});

it("a level was moved and reads 15 L too little, and the float hangs: told with less than 20 L on the floor", () => {
  const moved: Deed = [0, (life) => void Object.assign(life, { zero: -15 })];
  const told = tale(kits.level, 25, [moved, [300, take(22)], ...when(360, fillsAt(165), hangs(false), 600)]);
  expect(firstLoud(told)?.floor).toBeLessThan(20);
  expect(wakes(told)[0]?.floor).toBeLessThan(20);
});

it("silenced for a day as it ran, over, and reset: the next one, hours later, wakes before the edge", () => {
  const silenced: Deed[1] = (life, atS) =>
    on("shelve", "drum-not-stopping", { untilMs: beginMs + (atS + 86_400) * 1000 })(life, atS);
  const told = tale(kits.level, 140, [
    ...hung(),
    [520, silenced],
    [560, tap(true)],
    [600, take(40)],
    [610, hangs(null)],
    [1300, on("reset", "drum-not-stopping", { float: "moved" })],
    [1400, tap(false)],
    [3000, take(22)],
    [4500, take(22)],
    [7500, take(22)],
    ...when(7560, fillsAt(165), hangs(false), 600),
  ]);
  expect(told.answers).toEqual([null, null, null]);
  expectWokenDry(told, T + 7500);
});

it("a long fill is silenced for a day, and reset as its float hangs free again: the next one is told", () => {
  const silenced: Deed[1] = (life, atS) =>
    on("shelve", "fill-long", { untilMs: beginMs + (atS + 86_400) * 1000 })(life, atS);
  const told = tale(kits.wheel, 140, [
    [0, take(22)],
    ...when(60, fillsAt(168), hangs(false), 600),
    [600, silenced],
    [1560, on("reset", "fill-long")],
    [1562, take(60)],
    [1570, hangs(null)],
    [4200, take(22)],
    ...when(4300, fillsAt(168), hangs(false), 600),
  ]);
  expect(told.answers).toEqual([null, null, null]);
  const calls = told.said.filter(({ what }) => what === "fill-long:butt").map(({ atS }) => atS >= T + 4200);
  expect(calls).toEqual([false, true]);
  const reset = told.bench.outcomes.find((one) => one.kind === "alarm" && one.why === "reset");
  expect(reset).toMatchObject({ alarm: { clearedAtMs: beginMs + (T + 1560) * 1000 } });
});
