// Power cuts in the middle of a fill, on a vessel with a physics of its own. Each expectation was written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import type { Boathouse } from "./boathouse.ts";
import { boathouse, type Kit, so } from "./boathouse-kits.ts";

const meter: Kit = { meter: true };
const level: Kit = { level: "volume" };
const both: Kit = { ...meter, ...level };

/** Some litres are drawn, and after `atS` of the fill its boards are off for `offS`. */
interface Cut {
  readonly offS: number;
  readonly atS: number;
  /** Its valve needs no power. */
  readonly runsOn?: boolean;
  readonly boards?: readonly ("wall" | "quay")[];
  readonly drawn?: number;
}
function cut(house: Boathouse, { offS, atS, runsOn = false, boards = ["wall", "quay"], drawn = 0 }: Cut) {
  house.draw(28).for(atS);
  house.isShut = !runsOn;
  for (const name of boards) house[name].link = "off";
  if (drawn > 0) house.draw(drawn);
  house.for(offS);
  for (const name of boards) house.replaced(name, 0);
  house.isShut = false;
  return house;
}
const filled = (house: Boathouse) => house.until(({ tun }) => tun.isUp, 7200).for(900);

/** One fill, its litres, whether it is put together, who was called. */
function lived(kit: Kit, given: Cut, [fromL, toL]: readonly [number, number]) {
  const house = boathouse(kit).known(6);
  const before = house.told().length;
  filled(cut(house, given));
  const [fill, ...more] = house.told().slice(before);
  return [
    so(fill?.litres, fromL, toL),
    fill?.estimated,
    fill?.end,
    more.length,
    house.calls().filter((one) => !one.includes("silent")),
  ];
}
const once = ["so", true, "float-tripped", 0, []];

const kits = [
  ["meter", meter],
  ["meter and level", both],
  ["level", level],
] as const;
const rows: readonly Row[] = [
  ...kits.flatMap(([says, kit]) =>
    [20, 60, 180].flatMap((offS) =>
      [60, 240].map(
        (atS): Row => [
          `the whole house is without power for ${offS} s, ${atS} s into a fill of 28 L, its valve shut: ${says}`,
          () => lived(kit, { offS, atS }, [26.4, 29.6]),
          once,
        ],
      ),
    ),
  ),
  ...[60, 180].map(
    (offS): Row => [
      `the meter's board alone starts anew after ${offS} s, the float's is heard: what ran meanwhile is counted`,
      () => lived(meter, { offS, atS: 60, runsOn: true, boards: ["wall"] }, [26.5, 29.5]),
      once,
    ],
  ),
  [
    "both boards are off and water runs on, as a level sees: what ran meanwhile is counted",
    () => [60, 180].map((offS) => lived(both, { offS, atS: 60, runsOn: true }, [26, 30])),
    [once, once],
  ],
  [
    "… and 8 L are drawn meanwhile: no less is counted than came, but for 3 L",
    () => lived(both, { offS: 180, atS: 60, runsOn: true, drawn: 8 }, [33, 40]),
    once,
  ],
  [
    "… no level is there: its float trips after less than fits up to it, so what ran meanwhile is counted, or said to be missing",
    () =>
      [120, 240].map((offS) => {
        const house = boathouse(meter).known(6);
        filled(cut(house, { offS, atS: 60, runsOn: true }));
        const { litres, estimated, missedL = 0 } = house.last ?? {};
        return [estimated, so((litres ?? 0) + missedL, 26, 30)];
      }),
    [
      [true, "so"],
      [true, "so"],
    ],
  ],
  ...kits.map(
    ([says, kit]): Row => [
      `the gateway starts anew every 3 s as the power comes back, or is away and hears of it 4 min late: the same (${says})`,
      () =>
        [
          (house: Boathouse) => Array.from({ length: 60 }, () => house.for(3).restart()),
          (house: Boathouse) => house.silent(240, ["wall", "quay"], "kept"),
        ].map((then) => {
          const house = boathouse(kit).known(6);
          const before = house.told().length;
          then(cut(house, { offS: 180, atS: 60 }));
          const fills = filled(house).told().slice(before);
          return [fills.length, so(fills[0]?.litres, 26.4, 29.6), fills[0]?.estimated];
        }),
      [
        [1, "so", true],
        [1, "so", true],
      ],
    ],
  ),
  [
    "its float hangs after that: told before more than 1 L more than without has come since (meter alone)",
    () => {
      const came = [0, 180].map((offS) => {
        const house = boathouse(meter).known(6);
        const fromL = house.tun.came;
        if (offS > 0) cut(house, { offS, atS: 60 });
        else house.draw(28).for(60);
        house.tun.contact = () => false;
        house.tun.tap = true;
        const fromS = house.nowS;
        house.until(() => house.calls(fromS).some((one) => !one.includes("silent")), 7200);
        return house.tun.came - fromL;
      });
      return so((came[1] ?? 0) - (came[0] ?? 0), -13, 1);
    },
    "so",
  ],
];
table("power is lost in mid-fill", rows);
