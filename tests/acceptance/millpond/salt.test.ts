// Batches of salt water that get water when they should not. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import type { Kit } from "./lines.ts";
import { pond } from "./lived.ts";
import type { Millpond } from "./millpond.ts";

const kit: Kit = {
  meter: true,
  level: true,
  manual: true,
  salt: true,
  float: "trips_at: 180 L, releases_at: 160 L",
};
const step = (house: Millpond, name: string, more: object = {}) =>
  house.act("batch", { step: name, ...more });
const fresh = () => {
  const house = pond(kit);
  house.vat.tap = false;
  house.for(60);
  house.vat.empties(2);
  house.for(60).act("release", { reason: "dumped" });
  return house.for(60).filled();
};
/** Salt for so much goes in at once and dissolves in the hours after. */
const salts = (house: Millpond, salinity = 35) => {
  const { vat } = house;
  const kg = (vat.litres * 0.997 * salinity) / (1000 - salinity) - vat.saltKg;
  const refused = step(house, "salted", { kg: Math.round(kg * 100) / 100 });
  vat.grainsKg += kg;
  return refused;
};
const dissolved = (house: Millpond, forS = 7200) => house.for(forS);
const ready = () => {
  const house = fresh();
  salts(house);
  return dissolved(house);
};
const leaks = (house: Millpond, perMin: number) => {
  const fromS = house.nowS;
  const { spilt } = house.vat;
  house.vat.passes = perMin;
  house.for(7200, () => house.calls(fromS).length > 0);
  const min = Math.round((house.nowS - fromS) / 60);
  return [
    house.calls(fromS),
    house.vat.spilt - spilt <= 0.1 ? "dry" : `${house.vat.spilt} L`,
    min <= 45 ? "soon" : min,
  ];
};

/** A meter that starts at 0.5 L/min sees a failed stop; less, its level alone sees as water that nobody asked for. */
const sees = (perMin: number) => (perMin < 0.5 ? "unplanned-inflow:vat tell" : "drum-not-stopping:vat tell");

const rows: readonly Row[] = [
  [
    "from empty to ready: nobody is called, of use",
    () => {
      const house = ready();
      return [house.batch?.state, house.word(), house.calls()];
    },
    ["ready", "use", []],
  ],
  ...[0.2, 0.5, 1].map(
    (perMin): Row => [
      `a shut valve lets ${perMin} L/min into what is ready: told within 45 min, dry; not ready any more, on hold`,
      () => {
        const house = ready();
        const told = leaks(house, perMin);
        house.for(600);
        return [told, house.batch?.state, house.word() === "use"];
      },
      [[[sees(perMin)], "dry", "soon"], "mixing", false],
    ],
  ),
  ...[0.2, 1].map(
    (perMin): Row => [
      `… ${perMin} L/min in the hour after its salt went in: told within 45 min, dry`,
      () => {
        const house = fresh();
        salts(house);
        return leaks(house.for(900), perMin);
      },
      [[sees(perMin)], "dry", "soon"],
    ],
  ),
  [
    "salt goes in at 120 L while it still fills: nobody is woken, it is not ready before its salinity is right, and of use when it is",
    () => {
      const house = pond(kit);
      house.vat.tap = false;
      house.for(60);
      house.vat.empties(2);
      house.for(60).act("release", { reason: "dumped" });
      house.for(60).act("fill-started");
      house.vat.tap = true;
      house.until(({ vat }) => vat.litres >= 120);
      house.vat.grainsKg += (180 * 0.997 * 35) / 965;
      step(house, "salted", { kg: 6.5 });
      house.until(({ vat }) => vat.isUp).for(8);
      house.vat.tap = false;
      house.act("fill-stopped");
      const early = house.for(300).batch?.state;
      dissolved(house);
      return [early === "ready", house.batch?.state, house.word(), house.calls()];
    },
    [false, "ready", "use", []],
  ],
  [
    "“emptied” is said while the level says half: refused, and the batch is the same",
    () => {
      const house = ready();
      house.draw(90).for(300);
      const before = house.batch?.id;
      const refused = house.act("release", { reason: "dumped" }) !== null;
      return [refused, house.batch?.id === before, house.batch?.state, house.word()];
    },
    [true, true, "in-use", "use"],
  ],
  [
    "10 L of fresh water by the bucket into 160 L that are in use, nobody says so: not of use",
    () => {
      const house = ready();
      house.draw(20).for(600).pour(10, 20, 1).for(1200);
      return [house.word() === "use", house.calls().filter((call) => call.endsWith("wake"))];
    },
    [false, []],
  ],
  [
    "“adding water” and 20 L: mixing, on hold, and waits; the rest of the salt makes it ready",
    () => {
      const house = ready();
      house.draw(20).for(300);
      const refused = step(house, "adding-water");
      house.vat.tap = true;
      house.for(300);
      house.vat.tap = false;
      house.for(1800);
      const between = [house.batch?.state, house.word()];
      const salted = salts(house);
      dissolved(house);
      return [refused, between, salted, house.batch?.state, house.word(), house.calls()];
    },
    [null, ["mixing", "hold"], null, "ready", "use", []],
  ],
  [
    "its salinity drifts from 35 to 33.5 in three hours with no water seen: told of today, nobody is called",
    () => {
      const house = ready();
      const fromS = house.nowS;
      const kg = house.vat.saltKg;
      for (let min = 1; min <= 180; min += 1) {
        house.vat.saltKg = kg * (1 - (0.045 * min) / 180);
        house.for(60);
      }
      house.for(1800);
      return [house.raised("drum-off-target", fromS), house.calls(fromS)];
    },
    [true, []],
  ],
  [
    "“ready” is said by a person with 35 measured while the probe says 20: not of use on the probe's word",
    () => {
      const house = fresh();
      salts(house, 20);
      dissolved(house);
      const first = [house.batch?.state, house.word()];
      return [first, step(house, "ready") === null];
    },
    [["mixing", "hold"], false],
  ],
  [
    "the tap is opened by mistake on what is ready, 4 L/min: told within 5 min, dry",
    () => {
      const house = ready();
      house.draw(24).for(300);
      const fromS = house.nowS;
      house.vat.tap = true;
      house.for(3600, () => house.calls(fromS).length > 0);
      return [house.calls(fromS)[0], house.nowS - fromS <= 300, house.vat.spilt];
    },
    ["unplanned-inflow:vat tell", true, 0],
  ],
];
table("batches of the millpond", rows);
