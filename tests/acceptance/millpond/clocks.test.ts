// Clocks that are set in mid-fill: the gateway's, a node's, summer time. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, type Kit, level, meter } from "./lines.ts";
import { begins, dry, mid, pond, under } from "./lived.ts";
import type { Millpond } from "./millpond.ts";

/** One more fill of 24 L with something in its midst: calls, the word, how many fills, their litres. */
const lived = (kit: Kit, does: (house: Millpond) => unknown) => {
  const house = pond(kit).known();
  const [fromS, before] = [house.atS, house.told().length];
  mid(house, () => does(house));
  const fills = house.told().slice(before);
  return [house.calls(fromS), house.word(), fills.length, Math.round(fills.at(-1)?.litres ?? 0)];
};
const set = (house: Millpond, hours: number) =>
  house.bench.world("clock", "offset-ms", hours * 3_600_000, house.atS);
const quietly = [[], "use", 1, true];
const offset = (forS: number, board: "wall" | "yard", kappa: number) => {
  const house = pond(both);
  Object.assign(house.wall, { clockS: 0 });
  Object.assign(house.yard, { clockS: 0 });
  house.known();
  const fromS = house.nowS;
  house.a.kappa = kappa;
  mid(house, () => {
    house[board].clockS = forS;
  });
  house.for(600);
  return [house.word() === "use", house.calls(fromS).filter((call) => call.endsWith("wake"))];
};
/** 01:00 UTC of the night in which the clocks of Berlin go forward is so long after the begin, s. */
const summerS = (Date.UTC(2026, 2, 29, 1) - Date.UTC(2026, 2, 3, 4)) / 1000;

const rows: readonly Row[] = [
  ...[-1, 1].flatMap((hours) =>
    (
      [
        ["meter", meter],
        ["level", level],
      ] as const
    ).map(
      ([says, kit]): Row => [
        `the gateway's clock is set by ${hours} h in mid-fill: one fill of the litres that it is without, of use, nobody called (${says})`,
        () => {
          const [without, by] = [lived(kit, () => {}), lived(kit, (house) => set(house, hours))];
          return [...by.slice(0, 3), by[3] === without[3]];
        },
        quietly,
      ],
    ),
  ),
  [
    "… and its float hangs: told, dry",
    () =>
      [-1, 1].map((hours) => {
        const house = pond(both).known();
        const fromS = begins(house, "hangs");
        set(house, hours);
        return dry(house, fromS);
      }),
    ["dry", "dry"],
  ],
  [
    "the wall's own clock is set back an hour in mid-fill, or ahead, and 40 µS/cm runs: not of use, nobody woken",
    () => [offset(-3600, "wall", 40), offset(3600, "wall", 40)],
    [
      [false, []],
      [false, []],
    ],
  ],
  [
    "the yard's own clock is set back an hour in mid-fill, good water: nobody woken",
    () => offset(-3600, "yard", 0.3)[1],
    [],
  ],
  [
    "… and its float hangs: told by what is still heard, dry",
    () =>
      [-3600, 3600].map((byS) => {
        const house = pond(both);
        Object.assign(house.wall, { clockS: 0 });
        Object.assign(house.yard, { clockS: 0 });
        house.known();
        const fromS = begins(house, "hangs");
        house.yard.clockS = byS;
        return dry(house, fromS);
      }),
    ["dry", "dry"],
  ],
  [
    "the night of summer time, a fill over 02:00: one fill, of use, nobody called; a float that hangs then is told, dry",
    () => {
      const house = pond({ ...both, zone: "Europe/Berlin" }, summerS - 7200).known();
      house.until(({ nowS }) => nowS >= summerS - 240);
      const before = house.told().length;
      const fromS = house.nowS;
      house.fills(1);
      const first = [house.told().length - before, house.word(), house.calls(fromS)];
      return [first, dry(house, begins(house, "hangs"))];
    },
    [[1, "use", []], "dry"],
  ],
  [
    "the gateway is down over the night's hour that comes twice, its packs kept: of use, nobody called",
    () => {
      const autumnS = (Date.UTC(2026, 9, 25, 1) - Date.UTC(2026, 2, 3, 4)) / 1000;
      const house = pond({ ...meter, zone: "Europe/Berlin" }, autumnS - 8000).known();
      house.until(({ nowS }) => nowS >= autumnS - 120);
      const fromS = house.nowS;
      house.draw(24).down(240).filled(900);
      return [house.word(), house.calls(fromS), under(house.falseS.vat, 0)];
    },
    ["use", [], "so"],
  ],
];
table("clocks of the millpond", rows);
