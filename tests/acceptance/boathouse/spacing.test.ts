// Boards of the boathouse that change how often they speak and announce nothing. Each expectation was written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { boathouse, so } from "./boathouse-kits.ts";

/** Known by fills each 5 s, then a pack a minute for an hour. */
const slowed = (kit: Parameters<typeof boathouse>[0]) => {
  const house = boathouse(kit).known();
  for (const board of [house.wall, house.quay]) board.everyS = 60;
  return house.for(3600);
};

const rows: readonly Row[] = [
  ...([{ meter: true }, { meter: true, level: "volume" }] as const).map(
    (kit): Row => [
      `a pack a minute after one each 5 s, ${"level" in kit ? "meter and level" : "a meter"}: fills stay whole, and of use`,
      () => {
        const house = slowed(kit);
        const n = house.told().length;
        const fromL = house.tun.came;
        house.fills(6, 24, 900);
        const fills = house.told().slice(n);
        const [toldL, cameL] = [
          fills.reduce((sum, { litres }) => sum + (litres ?? 0), 0),
          house.tun.came - fromL,
        ];
        return [fills.map(({ end }) => end), so(toldL / cameL, 0.95, 1.05), house.word, house.calls()];
      },
      [Array.from({ length: 6 }, () => "float-tripped"), "so", "use", []],
    ],
  ),
  [
    "a float may be tested at the moment that the next pack is due, and not once three are missing",
    () => {
      const house = slowed({ meter: true });
      house.isShut = true;
      house.draw(24).for(300);
      house.for(60 - (house.nowS % 60));
      const due = house.bench.act({ type: "proof-start", float: "tun.stop", method: "lifted" }, house.nowS);
      house.bench.act({ type: "proof-cancel", float: "tun.stop" }, house.nowS);
      house.quay.link = "off";
      house.for(240);
      const missing = house.bench.act(
        { type: "proof-start", float: "tun.stop", method: "lifted" },
        house.nowS,
      );
      return [due, missing];
    },
    [null, "not-possible-in-state"],
  ],
];

table("boards of the boathouse that announce nothing", rows);
