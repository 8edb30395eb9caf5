// The word of a vat over bad water that comes by part, late, beside good water or while it is drawn. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, level, meter } from "./lines.ts";
import { mid, pond, under } from "./lived.ts";
import type { Millpond } from "./millpond.ts";

const bad = (house: Millpond, kappa: number, litres: number) => {
  house.a.kappa = kappa;
  house.fills(1, litres);
  house.a.kappa = 0.3;
  return house;
};
const chlorine = (house: Millpond, value: number) =>
  house.bench.act(
    { type: "hand-test", place: { kind: "point", id: "charred" }, what: "total-chlorine", value },
    house.nowS,
  );

const rows: readonly Row[] = [
  [
    "carbon failed yesterday, a fill since; passed today: on hold until somebody answers for the vat, and then fills are of use",
    () => {
      const house = pond(meter).known();
      chlorine(house, 0.4);
      const failed = house.fills(1).word();
      house.for(80_000);
      chlorine(house, 0.02);
      const passed = house.for(60).word();
      house.tested(0.3);
      return [failed, passed, house.for(60).word(), house.fills(1).word()];
    },
    ["hold", "hold", "use", "use"],
  ],
  [
    "… answered for first and passed after: held by the fill between",
    () => {
      const house = pond(meter).known();
      chlorine(house, 0.4);
      house.fills(1).tested(0.3);
      const answered = house.for(60).word();
      const between = house.fills(1).word();
      chlorine(house, 0.02);
      return [answered, between, house.for(60).word()];
    },
    ["use", "hold", "hold"],
  ],
  [
    "600 µS/cm behind the bed at standstill: back-flow after 5 min holds; behind the sieve 500 holds its keg alone",
    () => {
      const lived = (feed: "a" | "b", kappa: number, forS: number) => {
        const house = pond({ ...both, beside: true })
          .known()
          .for(1200);
        Object.assign(house.feeds[feed] as object, { kappa });
        house.for(forS);
        return [house.raised("back-flow"), house.word(), house.word("keg")];
      };
      return [lived("a", 600, 420), lived("a", 600, 200), lived("b", 500, 420)];
    },
    [
      [true, "hold", "use"],
      [false, "use", "use"],
      [true, "use", "hold"],
    ],
  ],
  [
    "30 L of 400 by a hose past the meter, with a level: not of use within 3 min",
    () => {
      const house = pond(both).known();
      house.draw(16).for(120).pour(30, 20, 400).for(600);
      return [house.word() === "use", under(house.falseS.vat, 180)];
    },
    [false, "so"],
  ],
  [
    "the probe is pulled out for 4 min of a fill of 60 L between good water: of use; for 8 min: unknown",
    () =>
      [240, 480].map((forS) => {
        const house = pond(both).known(6, 60);
        return mid(
          house,
          () => {
            house.a.probe = () => null;
            house.for(forS);
            house.a.probe = (read) => read;
          },
          60,
        ).word();
      }),
    ["use", "unknown"],
  ],
  [
    "the bed is spent slowly, from 0.3 to 30 over twenty fills: on hold at the end and never of use over its band",
    () => {
      const house = pond(meter).known();
      for (let turn = 1; turn <= 20; turn += 1) {
        house.a.kappa = 0.3 + 1.5 * turn;
        house.fills(1);
      }
      return [house.word(), under(house.falseS.vat, 0)];
    },
    ["hold", "so"],
  ],
  [
    "“dumped” while the level says 100 L: refused, and the word stands",
    () => {
      const house = bad(pond(level).known(), 40, 60);
      house.isShut = true;
      house.draw(80).for(120);
      return [house.act("release", { reason: "dumped" }) === null, house.for(60).word()];
    },
    [false, "hold"],
  ],
  [
    "the gateway is down for 20 min and hears nothing of it while 24 L of 40 come: not of use",
    () =>
      [false, true].map((counts) => {
        const house = pond(meter);
        Object.assign(house.wall, { counts });
        Object.assign(house.yard, { counts });
        house.known();
        house.draw(24);
        house.a.kappa = 40;
        house.down(1200, "lost").for(300);
        return house.word() === "use";
      }),
    [false, false],
  ],
];
table("the word of the millpond, and more", rows);
