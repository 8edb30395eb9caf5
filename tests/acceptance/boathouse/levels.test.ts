// Levels of every kind under true shapes, on a vessel with a physics of its own. Each expectation was written down from the design's text
// before the first run.
import { type Row, table } from "../scenario-table.ts";
import { boathouse, type Kit, so } from "./boathouse-kits.ts";
import { byDepth, cone, lying, type Shape } from "./boathouse-tun.ts";

/** A table of a shape at these heights. */
const tableOf = (shape: Shape, heights: readonly number[]) =>
  `{ ${heights.map((height) => `"${height} m": "${shape(height).toFixed(2)} L"`).join(", ")} }`;
const steps = (toM: number, count: number) =>
  Array.from({ length: count + 1 }, (_, at) => Math.round((toM * at * 1000) / count) / 1000);
const wakes = (calls: readonly string[]) => calls.filter((call) => call.endsWith("wake"));
/** Its float hangs dry and its tap stays open up to 198 L: who was woken, and what was spilt. */
const hangsOpen = (house: ReturnType<typeof boathouse>) => {
  const fromS = house.nowS;
  house.tun.contact = () => false;
  house.tun.tap = true;
  house.until(({ tun }) => tun.litres >= 198, 3600);
  return [wakes(house.calls(fromS)), house.tun.spilt];
};
/** Litres of a fill of 24 by this kit, after six others. */
const fillOf = (kit: Kit, shape?: Shape) => {
  const house = boathouse(kit);
  if (shape) house.tun.shape = shape;
  house.known();
  return [so(house.last?.litres, 23.2, 24.8), house.word, house.calls()];
};

const rows: readonly Row[] = [
  ...(["depth", "distance", "pressure"] as const).map(
    (as): Row => [
      `a fill of 24 L by ${as}: its litres within 0.8 L`,
      () => fillOf({ level: as }),
      ["so", "use", []],
    ],
  ),
  [
    "a vessel with a cone below, six rows of its table: a fill of 24 L in its straight part",
    () => fillOf({ level: "depth", table: tableOf(cone, [0, 0.1, 0.2, 0.3, 0.7, 1.2]) }, cone),
    ["so", "use", []],
  ],
  [
    "a barrel on its side, twenty rows: 24 L",
    () => fillOf({ level: "depth", table: tableOf(lying, steps(0.5, 20)) }, lying),
    ["so", "use", []],
  ],
  [
    "the cone by two rows alone, filled by hand: 60 L are read as 50, its meter knows better: flow-disagrees, nobody woken",
    () => {
      const house = boathouse({
        level: "depth",
        meter: true,
        manual: true,
        table: '{ "0 m": "0 L", "1.2 m": "200 L" }',
      });
      house.tun.shape = cone;
      house.tun.tap = false;
      house.for(60);
      for (let fill = 0; fill < 6; fill += 1) house.draw(60).for(300).byHand().for(600);
      return [
        so(house.last?.litres, 58, 62),
        house.raisedS("flow-disagrees").length > 0,
        wakes(house.calls()),
      ];
    },
    ["so", true, []],
  ],
  [
    "its table ends at 170 L: up to the trip it goes on in a straight line, 24 L, nobody called",
    () => fillOf({ level: "depth", table: '{ "0 m": "0 L", "0.85 m": "170 L" }' }),
    ["so", "use", []],
  ],
  [
    "its table begins at 10 L: emptied to nothing it reads 0 and not less; drum-low is told once",
    () => {
      const house = boathouse({ level: "depth", table: '{ "0.05 m": "14 L", "1 m": "204 L" }' });
      house.known(2).isShut = true;
      house.draw(179).for(1200);
      return [
        so(house.measured("volume"), 0, 6),
        house.raisedS("drum-low").length,
        house.stands().filter((one) => one.startsWith("drum-low")),
      ];
    },
    ["so", 1, ["drum-low today"]],
  ],
  [
    "a distance of exactly 0 for 10 min at rest is a sensor that heard no echo: nobody is woken, and nothing came in",
    () => {
      const house = boathouse({ level: "distance" }).known().for(600);
      const [fromS, n, level] = [house.nowS, house.told().length, house.tun.level];
      house.tun.level = () => ({ u: "m", v: 0 });
      house.for(600);
      house.tun.level = level;
      house.for(300);
      return [wakes(house.calls(fromS)), house.told().length - n, house.word];
    },
    [[], 0, "use"],
  ],
  [
    "a pressure of exactly 0 for 20 min with the float wet is a cut cable: no drum-low, no fill as it comes back, and of use",
    () => {
      const house = boathouse({ level: "pressure" }).known().for(600);
      const [fromS, n, level] = [house.nowS, house.told().length, house.tun.level];
      house.tun.level = () => ({ u: "Pa", v: 0 });
      house.for(1200);
      const low = house.raisedS("drum-low", fromS).length;
      house.tun.level = level;
      house.for(900);
      return [low, house.told().length - n, wakes(house.calls(fromS)), house.word];
    },
    [0, 0, [], "use"],
  ],
  [
    "waves of 2 mm over 12 h at rest: no fill, no leak, nobody called",
    () => {
      const house = boathouse({ level: "depth" }).known();
      const [fromS, n] = [house.nowS, house.told().length];
      let turn = 7;
      house.tun.level = (tun) => {
        turn = (turn * 48271) % 2147483647;
        return { u: "m", v: tun.heightM + ((turn / 2147483647) * 2 - 1) * 0.002 };
      };
      house.for(43_200);
      return [house.calls(fromS), house.told().length - n, house.stands(), house.word];
    },
    [[], 0, [], "use"],
  ],
  [
    "the night cools the air under a sensor from above by 5 °C in 4 h (0.18 % of its distance for each): no leak, no fill",
    () => {
      const house = boathouse({ level: "distance", hangsM: 1.2 }).known();
      const [fromS, n] = [house.nowS, house.told().length];
      house.tun.level = (tun) => {
        const cooled = Math.min(5, ((house.nowS - fromS) / 14_400) * 5);
        return { u: "m", v: (1.2 - tun.heightM) * (1 + 0.0018 * cooled) };
      };
      house.for(28_800);
      return [house.stands(), house.told().length - n, house.word];
    },
    [[], 0, "use"],
  ],
  ...(["depth", "pressure"] as const).map(
    (as): Row => [
      `it drips 1.6 L/h, by ${as}: drum-leaking in two to four hours, today; 0.6 L/h: none in six`,
      () =>
        [1.6, 0.6].map((drips) => {
          const house = boathouse({ level: as }).known(3);
          const fromS = house.nowS;
          house.tun.drips = drips;
          house.for(21_600);
          const [raised] = house.raisedS("drum-leaking", fromS);
          return [raised === undefined ? "never" : so(raised - fromS, 7000, 14_400), house.calls(fromS)];
        }),
      [
        ["so", []],
        ["never", []],
      ],
    ],
  ),
  [
    "a float that hangs dry, level by a barrel's table: woken before the brim",
    () => {
      const house = boathouse({ level: "depth", table: tableOf(lying, steps(0.5, 20)) });
      house.tun.shape = lying;
      house.known().draw(24);
      return hangsOpen(house);
    },
    [["drum-not-stopping wake"], 0],
  ],
  [
    "… by a pressure whose table ends at 150 L",
    () => {
      const house = boathouse({ level: "pressure", table: '{ "0 m": "0 L", "0.75 m": "150 L" }' })
        .known()
        .draw(24);
      return hangsOpen(house);
    },
    [["drum-not-stopping wake"], 0],
  ],
  [
    "a depth in centimetres sent as metres (100 times too much) at rest: no fill and nobody is woken for a flood that is none",
    () => {
      const house = boathouse({ level: "depth" }).known().for(600);
      const [fromS, n] = [house.nowS, house.told().length];
      house.tun.level = (tun) => ({ u: "m", v: tun.heightM * 100 });
      house.for(60);
      house.tun.level = byDepth;
      house.for(600);
      return [wakes(house.calls(fromS)), house.told().length - n];
    },
    [[], 0],
  ],
];

table("levels of the boathouse", rows);
