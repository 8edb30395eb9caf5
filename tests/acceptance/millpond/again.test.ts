// Stops that fail again, beside another alarm, or after something was moved or unplugged. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, byHand, float, type Kit, level, meter } from "./lines.ts";
import { begins, dry, firstTold, pond, type Stop } from "./lived.ts";

/** A first flood was told, shut off, set right and reset; the next begins at once. */
const afterReset = (kit: Kit, stop: Stop, said: string) => {
  const house = pond(kit).known();
  firstTold(house, begins(house, stop));
  house.isShut = true;
  house.act("supply-closed");
  house.for(300);
  Object.assign(house.vat, { held: null, passes: 0 });
  house.draw(Math.max(0, house.vat.litres - 170)).for(240);
  for (const condition of ["drum-not-stopping", "drum-high-high", "fill-long"]) house.reset(condition, said);
  house.isShut = false;
  house.for(30).until(({ vat }) => vat.isUp || vat.litres > 182, 1200);
  house.for(60);
  return dry(house, begins(house, stop));
};
const moved = (kit: Kit, toL: number, stop: Stop) => {
  const house = pond(kit).known();
  Object.assign(house.vat, { trip: toL, release: toL - 20 });
  house.fills(1);
  return dry(house, begins(house, stop));
};
const leftOn = (kit: Kit, held: boolean | null, mostL = 0.1) => {
  const house = pond(byHand(kit)).known();
  house.draw(24).for(120);
  const fromS = house.nowS;
  house.act("fill-started");
  Object.assign(house.vat, { tap: true, held });
  return dry(house, fromS, mostL);
};

const rows: readonly Row[] = [
  ...(["hangs", "stays open"] as const).flatMap((stop) =>
    (
      [
        ["meter", meter],
        ["level", level],
        ["meter and level", both],
      ] as const
    ).map(
      ([says, kit]): Row => [
        `${says}: it ${stop} again right after its reset as failed, as not known`,
        () => ["failed", "unknown"].map((said) => afterReset(kit, stop, said)),
        ["dry", "dry"],
      ],
    ),
  ),
  [
    "a float that was moved up to 186 L a fill ago stays open: meter, level, both",
    () => [meter, level, both].map((kit) => moved(kit, 186, "stays open")),
    ["dry", "dry", "dry"],
  ],
  [
    "… moved down to 165 L: the same",
    () => [meter, level, both].map((kit) => moved(kit, 165, "stays open")),
    ["dry", "dry", "dry"],
  ],
  ["… and hangs", () => [meter, level, both].map((kit) => moved(kit, 165, "hangs")), ["dry", "dry", "dry"]],
  [
    "its level was unplugged an hour before: the meter alone guards",
    () =>
      (["hangs", "stays open"] as const).map((stop) => {
        const house = pond(both).known();
        house.vat.reads = () => null;
        return dry(house.for(3600), begins(house, stop));
      }),
    ["dry", "dry"],
  ],
  [
    "its level is unplugged as it calls, or the yard's board is heard no more: the meter alone guards, draw or no draw before",
    () =>
      ["level", "yard"].flatMap((lost) =>
        [24, 12].map((litres) => {
          const house = pond(both).known(10);
          const fromS = house.nowS;
          house
            .draw(litres)
            .draw(24 - litres)
            .until(({ vat }) => !vat.isUp, 600);
          house.vat.held = false;
          house.for(60);
          if (lost === "level") house.vat.reads = () => null;
          else house.yard.link = "lost";
          return dry(house, fromS);
        }),
      ),
    ["dry", "dry", "dry", "dry"],
  ],
  [
    "… of a level alone: told by time, with up to 5 L over",
    () => {
      const house = pond(level).known();
      house.vat.reads = () => null;
      house.for(3600);
      return dry(house, begins(house, "hangs"), 5);
    },
    "dry",
  ],
  [
    "the other vat on the meter stands in alarm and was seen: this one's float hangs, or its valve stays open",
    () =>
      (["hangs", "stays open"] as const).map((stop) => {
        const house = pond({ ...both, vats: ["vat", "tub"] }).known();
        const tub = house.vats.tub as typeof house.vat;
        house.draw(24, 20, "tub");
        tub.passes = 4;
        house.until(() => tub.isUp).for(600);
        const found = house.bench.standing().find(({ key }) => key === "drum-not-stopping:tub");
        house.bench.act({ type: "acknowledge", key: found?.key, occurrence: found?.occurrence }, house.nowS);
        tub.passes = 0;
        house.for(120);
        return [found?.key, dry(house, begins(house, stop))];
      }),
    [
      ["drum-not-stopping:tub", "dry"],
      ["drum-not-stopping:tub", "dry"],
    ],
  ],
  [
    "somebody works on the other vat: this one's stop is told as ever",
    () => {
      const house = pond({ ...both, vats: ["vat", "tub"] }).known();
      house.works("drum", "tub", 240);
      return dry(house, begins(house, "stays open"));
    },
    "dry",
  ],
  [
    "somebody works on this vat: its stop that fails wakes all the same, and dry",
    () => {
      const house = pond(both).known();
      house.works("drum", "vat", 120);
      const fromS = begins(house, "stays open");
      return [dry(house, fromS), house.calls(fromS)[0]];
    },
    ["dry", "drum-not-stopping:vat wake"],
  ],
  [
    "a valve that lets 1 L/min through under a wet float an hour after the fill: meter without taps, level, both",
    () =>
      [{ ...meter, taps: false }, level, both].map((kit) => {
        const house = pond(kit).known().for(3600);
        return dry(house, begins(house, "leaks"));
      }),
    ["dry", "dry", "dry"],
  ],
  [
    "… taps behind the meter not spoken of: told, and dry",
    () => {
      const house = pond(meter).known().for(3600);
      return dry(house, begins(house, "leaks"));
    },
    "dry",
  ],
  [
    "by hand, nobody shuts the tap: meter, level, both",
    () => [meter, level, both].map((kit) => leftOn(kit, null)),
    ["dry", "dry", "dry"],
  ],
  [
    "… and its float hangs: a float alone too",
    () => [meter, level, both, float].map((kit) => leftOn(kit, false)),
    ["dry", "dry", "dry", "dry"],
  ],
];
table("a stop of the millpond that fails again", rows);
