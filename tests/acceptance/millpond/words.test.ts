// The word of a vat over bad water that comes by part, late, beside good water or while it is drawn. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, float, type Kit, level, meter } from "./lines.ts";
import { mid, pond, under } from "./lived.ts";
import type { Millpond } from "./millpond.ts";

const bad = (house: Millpond, kappa: number, litres: number) => {
  house.a.kappa = kappa;
  house.fills(1, litres);
  house.a.kappa = 0.3;
  return house;
};
/** Emptied, said so, and filled with water of so much. */
const filledWith = (kit: Kit, kappa: number, band: number) => {
  const house = pond(kit);
  house.band = band;
  house.for(60);
  house.vat.empties(1.5);
  house.a.kappa = kappa;
  house.for(12).act("release", { reason: "dumped" });
  return house.filled();
};
const drained = (kit: Kit) => {
  const house = bad(pond(kit).known(), 40, 60);
  const first = house.word();
  house.draw(100).filled();
  const then = house.word();
  const refused = house.tested(Math.round(house.vat.kappa * 10) / 10);
  const last = house.for(60).word();
  return [first, then, refused, last, house.fills(2).word(), under(house.falseS.vat, 60)];
};
const rows: readonly Row[] = [
  ...[meter, level, both].map(
    (kit, at): Row => [
      `60 L of 40 µS/cm, 100 L of it drawn and filled up with good: on hold until a test finds what is left (${["meter", "level", "both"][at]})`,
      () => drained(kit),
      ["hold", "hold", null, "use", "use", "so"],
    ],
  ),
  [
    "a test that finds 2 where 13 is true frees it; 24 L of 40 hold it again at once",
    () => {
      const house = bad(pond(both).known(), 40, 60);
      house.tested(2);
      const freed = house.for(300).word();
      return [freed, bad(house, 40, 24).word()];
    },
    ["use", "hold"],
  ],
  [
    "tested at 14, over its band of 10: of use; 24 L of good water leave it so; 24 L of 20 hold it again",
    () => {
      const house = bad(pond(both).known(), 40, 60);
      house.tested(14);
      const freed = house.for(60).word();
      const good = house.fills(1).word();
      return [freed, good, bad(house, 20, 24).word()];
    },
    ["use", "use", "hold"],
  ],
  [
    "its band is made stricter in mid-fill than what is in it: on hold within a minute; a looser one holds nothing",
    () =>
      [10, 30].map((band) => {
        const house = filledWith({ ...meter, band: 20, limit: 25 }, 15, 20);
        const first = house.word();
        house.draw(24).for(60);
        house.line({ ...meter, band, limit: 25 });
        return [first, house.for(60).word()];
      }),
    [
      ["use", "hold"],
      ["use", "use"],
    ],
  ],
  [
    "… looser in mid-fill of water that was over it: the hold stands until somebody answers, and the next fill is of use",
    () => {
      const house = filledWith({ ...meter, band: 10, limit: 10 }, 15, 20);
      const first = house.word();
      house.draw(24).for(60);
      house.line({ ...meter, band: 20, limit: 25 });
      const then = house.filled().word();
      house.tested(15);
      return [first, then, house.for(60).word(), house.fills(1).word()];
    },
    ["hold", "hold", "use", "use"],
  ],
  [
    "the limit of its point is made stricter in mid-fill (25 to 5), 15 runs: on hold; of the band alone nothing changes",
    () => {
      const house = filledWith({ ...meter, band: 20, limit: 25 }, 15, 20);
      house.draw(40).for(60);
      house.line({ ...meter, band: 20, limit: 5 });
      return house.filled().word();
    },
    "hold",
  ],
  [
    "the wall's packs of 200 s in mid-fill come an hour late, after a draw, and were of 60 µS/cm: not of use meanwhile, on hold then",
    () => {
      const house = pond(both).known();
      mid(house, () => {
        house.wall.link = "kept";
        house.a.kappa = 60;
        house.for(200);
        house.a.kappa = 0.3;
        house.wall.link = "lost";
      });
      house.wall.link = "on";
      const meanwhile = house.draw(15).for(3600).word();
      return [meanwhile === "use", house.brings("wall").for(300).word()];
    },
    [false, "hold"],
  ],
  ...[meter, level, both, float].map(
    (kit, at): Row => [
      `the wall's packs of 200 s between good water are told 10 min later, after those of now: of 60 µS/cm on hold, of good water of use (${["meter", "level", "both", "float"][at]})`,
      () =>
        [60, 0.3].map((kappa) => {
          const house = pond(kit).known();
          mid(house, () => {
            house.wall.link = "kept";
            house.a.kappa = kappa;
            house.for(200);
            house.a.kappa = 0.3;
            house.wall.link = "on";
          });
          house.draw(15).for(600);
          return house.brings("wall").for(300).word();
        }),
      ["hold", "use"],
    ],
  ),
  [
    "both boards' packs of a whole fill of 40 come two hours late, the vat was tested at 0.3 before the fill: on hold, and the next test frees it",
    () => {
      const house = pond(both).known();
      for (const board of [house.wall, house.yard]) board.link = "kept";
      bad(house, 40, 24);
      house.for(7200).brings("wall", "yard").for(120);
      const late = house.word();
      house.tested(Math.round(house.vat.kappa * 10) / 10);
      return [late, house.for(60).word(), under(house.falseS.vat, 60)];
    },
    ["hold", "use", "so"],
  ],
  [
    "two vats on one meter: water of 40 fills the one alone, and holds it alone",
    () => {
      const house = pond({ ...both, vats: ["vat", "tub"] }).known();
      house.a.kappa = 40;
      house.draw(24, 20, "tub");
      house.until(() => house.vats.tub?.isUp === true).for(300);
      house.a.kappa = 0.3;
      return [house.word(), house.word("tub"), house.fills(1).word(), house.word("tub")];
    },
    ["use", "hold", "use", "hold"],
  ],
  [
    "… by a meter alone: the same",
    () => {
      const house = pond({ ...meter, vats: ["vat", "tub"] }).known();
      house.a.kappa = 40;
      house.draw(24, 20, "tub");
      house.until(() => house.vats.tub?.isUp === true).for(300);
      house.a.kappa = 0.3;
      return [house.word(), house.word("tub")];
    },
    ["use", "hold"],
  ],
  [
    "… both call while it comes: both are held",
    () => {
      const house = pond({ ...both, vats: ["vat", "tub"] }).known();
      house.a.kappa = 40;
      house.draw(24).draw(24, 20, "tub");
      house.until(() => house.vats.tub?.isUp === true && house.vat.isUp).for(300);
      return [house.word(), house.word("tub")];
    },
    ["hold", "hold"],
  ],
  [
    "a bed and a sieve side by side: 40 behind the bed holds its vat alone, 90 behind the sieve its keg alone",
    () => {
      const lived = (feed: "a" | "b", kappa: number, name: string) => {
        const house = pond({ ...both, beside: true }).known();
        const before = [house.word(), house.word("keg")];
        Object.assign(house.feeds[feed] as object, { kappa });
        house.fills(1, 24, name);
        return [before, house.word(), house.word("keg")];
      };
      return [lived("a", 40, "vat"), lived("b", 90, "keg")];
    },
    [
      [["use", "use"], "hold", "use"],
      [["use", "use"], "use", "hold"],
    ],
  ],
  ...[meter, level, both, float].map(
    (kit, at): Row => [
      `as much is drawn as comes, half an hour, and 30 µS/cm comes: never of use over its band for more than 2 min (${["meter", "level", "both", "float"][at]})`,
      () => {
        const house = pond(kit).known();
        house.a.kappa = 30;
        house.draw(24);
        house.vat.drawn = 4;
        house.for(1800);
        house.vat.drawn = 0;
        house.filled();
        return [house.vat.kappa > 10, house.word() === "use", under(house.falseS.vat, 120)];
      },
      [true, false, "so"],
    ],
  ),
];
table("the word of the millpond", rows);
