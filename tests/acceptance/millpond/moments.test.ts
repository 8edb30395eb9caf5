// Stops that fail in an unlucky moment, on a model of its own: each is told while the floor is dry. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, float, inlet, type Kit, level, meter, slow } from "./lines.ts";
import { begins, dry, pond, type Stop } from "./lived.ts";
import type { Millpond } from "./millpond.ts";

const kits: readonly (readonly [string, Kit])[] = [
  ["meter", meter],
  ["level", level],
  ["meter and level", both],
];
const stops: readonly Stop[] = ["hangs", "stays open"];
/** What happens before it fails, and just after it began to. */
interface Moment {
  readonly says: string;
  readonly before?: (house: Millpond) => unknown;
  readonly after?: (house: Millpond) => unknown;
}
const moments: readonly Moment[] = [
  { says: "at no special time" },
  { says: "and the gateway starts again", after: (house) => house.restart() },
  { says: "and the gateway is down for 3 min, the packs come late", after: (house) => house.down(180) },
  { says: "and the yard's board starts again in 20 s", after: (house) => house.reboots("yard", 20) },
  { says: "and the wall's board starts again in 20 s", after: (house) => house.reboots("wall", 20) },
  {
    says: "and what both boards say comes 3 min late",
    after: (house) => {
      Object.assign(house.wall, { link: "kept" });
      Object.assign(house.yard, { link: "kept" });
      house.for(180).brings("wall", "yard");
    },
  },
  {
    says: "right after its float was lifted for a test",
    before: (house) => {
      house.draw(24).until(({ vat }) => vat.isUp);
      house.draw(10).for(120);
      house.bench.act({ type: "proof-start", float: "vat.stop", method: "lifted" }, house.nowS);
      house.vat.held = false;
      house.for(20);
      house.vat.held = null;
      house.for(60);
    },
  },
  { says: "while somebody works on the bed before it", before: (house) => house.works("stage", "bed", 240) },
];
const after = (kit: Kit, stop: Stop, moment: Moment) => {
  const house = pond(kit).known();
  moment.before?.(house);
  const fromS = begins(house, stop);
  moment.after?.(house);
  return dry(house, fromS);
};

const rows: readonly Row[] = moments.flatMap((moment) =>
  kits.map(
    ([says, kit]): Row => [
      `${says}: its float hangs, or its valve stays open, ${moment.says}`,
      () => stops.map((stop) => after(kit, stop, moment)),
      ["dry", "dry"],
    ],
  ),
);
table("a stop of the millpond in an unlucky moment", rows);

const by60: readonly Row[] = kits.map(([says, kit]) => [
  `${says}, read once a minute: its float hangs, or its valve stays open`,
  () => stops.map((stop) => after(slow(kit), stop, { says: "" })),
  ["dry", "dry"],
]);
table("a stop of the millpond, a pack a minute", [
  ...by60,
  [
    "a float alone: it hangs; told by 1.5 times the usual time, up to 5 L over",
    () => {
      const house = pond(float).known();
      return dry(house, begins(house, "hangs"), 5);
    },
    "dry",
  ],
  [
    "… and the gateway starts again, or is down 3 min: the same",
    () =>
      [0, 180].map((downS) => {
        const house = pond(float).known();
        const fromS = begins(house, "hangs");
        if (downS > 0) house.down(downS);
        else house.restart();
        return dry(house, fromS, 5);
      }),
    ["dry", "dry"],
  ],
  [
    "… and the yard's board starts again: a call that goes on over it, told with up to 8 L over",
    () => {
      const house = pond(float).known();
      const fromS = begins(house, "hangs");
      house.reboots("yard", 20);
      return dry(house, fromS, 8);
    },
    "dry",
  ],
  [
    "an inlet's contact: the valve stands open under a wet float",
    () => {
      const house = pond(inlet).known();
      house.draw(24).until(({ vat }) => !vat.isUp, 600);
      house.vat.tap = true;
      house.until(({ vat }) => vat.isUp);
      return dry(house, house.nowS);
    },
    "dry",
  ],
]);
