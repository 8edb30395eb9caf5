// Due dates, quiet nights at a change of the clocks, boards that are replaced and a folder that moves, on a vessel with a physics of its
// own. Each expectation was written down from the design's text before the first run.

import { beginMs } from "../line-bench.ts";
import { type Row, table } from "../scenario-table.ts";
import { boathouse, type Kit, so } from "./boathouse-kits.ts";

const day = 86_400;
/** A house that is lived a minute at a time. */
const slow = (kit: Kit) => boathouse(kit).slow();
/** So many days with a fill of 40 L on each of them, if one is wished; heard once an hour while nothing happens. */
const days = (
  house: ReturnType<typeof slow>,
  count: number,
  isFilled: (day: number) => boolean = () => true,
) => {
  for (let at = 0; at < count; at += 1) {
    const toS = house.nowS + day;
    if (isFilled(at)) house.fills(1, 40, 600);
    while (house.nowS < toS) {
      house.stepS = Math.min(3600, toS - house.nowS);
      house.for(house.stepS);
    }
    house.stepS = 60;
  }
  return house;
};
const unproven = (house: ReturnType<typeof slow>, fromS = 0) =>
  house.raisedS("float-unproven", fromS).map((atS) => Math.floor((atS - fromS) / day));
/** A house of a time zone, quiet from the noon before its clocks change. */
const changing = (utc: string, drips: number) => {
  const startS = (Date.parse(utc) - beginMs) / 1000;
  const house = boathouse({ level: "depth", site: "timezone: Europe/Berlin", startS });
  house.known(3);
  for (const board of [house.wall, house.quay]) board.everyS = 15;
  const fromS = house.nowS;
  house.tun.drips = drips;
  house.for(72_000);
  const nights = house.bench.outcomes.flatMap((one) =>
    one.kind === "night" && one.fromMs > beginMs + startS * 1000
      ? [[one.date, (one.toMs - one.fromMs) / 3_600_000]]
      : [],
  );
  return [
    house.raisedS("drum-leaking", fromS).map((atS) => so(atS - fromS, 7000, 14_400)),
    nights,
    house.calls(fromS),
  ];
};

const rows: readonly Row[] = [
  [
    "a stop float that ends a good fill each fifth day is not due in 100 days",
    () => unproven(days(slow({ meter: true }), 100, (at) => at % 5 === 0)),
    [],
  ],
  [
    "… that nobody fills by any more is due after 90 days, and one fill proves it again",
    () => {
      const house = days(slow({ meter: true }), 2);
      const fromS = house.nowS;
      days(house, 93, () => false);
      const first = unproven(house, fromS);
      days(house, 1);
      return [first.length, so(first[0], 88, 90), house.stands()];
    },
    [1, "so", []],
  ],
  [
    "an overflow float nobody has tried is due after a week, once, though the gateway starts anew in between",
    () => {
      const house = days(slow({ meter: true, overflow: true }), 5).restart();
      days(house, 20).restart();
      return unproven(days(house, 5));
    },
    [7],
  ],
  [
    "lifted by hand: due again after 30 days; in a drum for salt after 15",
    () =>
      [false, true].map((salt) => {
        const house = slow({ meter: true, overflow: true, salt });
        house
          .for(600)
          .bench.act({ type: "proof-start", float: "tun.overflow", method: "lifted" }, house.nowS);
        house.tun.over = 0;
        house.for(180);
        house.tun.over = 194;
        house.for(300);
        const fromS = house.nowS;
        return unproven(days(house, 40), fromS).map((at) => so(at, salt ? 14 : 29, salt ? 15 : 30));
      }),
    [["so"], ["so"]],
  ],
  [
    "the clocks go forward in a quiet night of 9 hours: a drip of 1.6 L/h is known in two to four hours, once",
    () => changing("2026-03-28T12:00:00Z", 1.6),
    [["so"], [["2026-03-28", 9]], []],
  ],
  [
    "they go back, a night of 11 hours: the same",
    () => changing("2026-10-24T12:00:00Z", 1.6),
    [["so"], [["2026-10-24", 11]], []],
  ],
  [
    "… and nothing drips: nothing is told",
    () => changing("2026-10-24T12:00:00Z", 0),
    [[], [["2026-10-24", 11]], []],
  ],
  ...(["wall", "quay"] as const).map(
    (name): Row => [
      `at rest the ${name}'s board is replaced in a minute by one whose counters stand elsewhere: nothing came in, of use`,
      () =>
        [0, 4321].map((base) => {
          const house = boathouse({ meter: true, level: "volume" });
          for (const board of [house.wall, house.quay]) board.counts = true;
          house.known().for(900);
          const [fromS, n] = [house.nowS, house.told().length];
          house.replaced(name, 60, base).for(900);
          return [house.told().length - n, house.word, house.calls(fromS)];
        }),
      [
        [0, "use", []],
        [0, "use", []],
      ],
    ],
  ),
  [
    "… in the middle of a fill of 40 L: one fill, 40 L within 3, and none of the counter's 4,321 m³ in it",
    () => {
      const house = boathouse({ meter: true });
      for (const board of [house.wall, house.quay]) board.counts = true;
      house.known();
      const n = house.told().length;
      house.draw(40).for(180).replaced("wall", 45, 4321);
      house.until(({ tun }) => tun.isUp).for(300);
      return [house.told().length - n, so(house.last?.litres, 37, 44), house.calls()];
    },
    [1, "so", []],
  ],
  [
    "its folder is carried to another machine, an hour at rest: of use where counters stand still, unknown where none count",
    () =>
      [true, false].map((counts) => {
        const house = boathouse({ meter: true });
        for (const board of [house.wall, house.quay]) board.counts = counts;
        house.known().for(900);
        const tick = house.bench.tick;
        house.bench.tick = () => undefined as never;
        for (const board of [house.wall, house.quay]) board.link = "lost";
        house.for(3600);
        house.bench.tick = tick;
        for (const board of [house.wall, house.quay]) board.link = "on";
        house.restart(true).for(600);
        return [house.word, house.calls()];
      }),
    [
      ["use", []],
      ["unknown", []],
    ],
  ],
  [
    "… and a fill of 40 L in that hour: its water is unknown, and it is not taken for a fill that never ends",
    () => {
      const house = boathouse({ meter: true });
      for (const board of [house.wall, house.quay]) board.counts = true;
      house.known().for(900);
      const tick = house.bench.tick;
      house.bench.tick = () => undefined as never;
      for (const board of [house.wall, house.quay]) board.link = "lost";
      house.fills(1, 40, 1800);
      house.bench.tick = tick;
      for (const board of [house.wall, house.quay]) board.link = "on";
      house.restart(true).for(600);
      return [house.word, house.calls(), house.last?.endedAtMs === null];
    },
    ["unknown", [], false],
  ],
];

table("weeks of the boathouse", rows);
