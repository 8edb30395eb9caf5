// Evenings on which nothing is wrong: nobody is called. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, byHand, float, type Kit, level, meter, slow } from "./lines.ts";
import { mid, pond } from "./lived.ts";
import type { Millpond } from "./millpond.ts";

const kits: readonly (readonly [string, Kit])[] = [
  ["meter", meter],
  ["level", level],
  ["meter and level", both],
  ["float", float],
];
/** Who was called since it was known, if something was done. */
const calls = (kit: Kit, does: (house: Millpond) => unknown, withNodes = false) => {
  const house = pond(kit).known();
  const fromS = house.nowS;
  does(house);
  return house.calls(fromS, withNodes);
};
const each = (says: string, does: (house: Millpond) => unknown, of = kits): readonly Row[] =>
  of.map(([kit, fitted]) => [`${says}: ${kit}`, () => calls(fitted, does), []]);
/** Draws that nobody sees: what comes for them is long, and told once. */
const unseen = ["fill-long:vat tell"];
const buckets = (house: Millpond) => {
  for (const litres of [10, 8, 10, 12, 6, 10]) house.draw(litres, 30).for(240);
  house.filled(1800);
};
const storm = (house: Millpond) =>
  mid(house, () => {
    house.reboots("wall", 8).for(12).reboots("yard", 9).for(15).reboots("wall", 7);
  }).for(1200);
const cat = (house: Millpond, times: number) => {
  for (let turn = 0; turn < times; turn += 1) {
    house.vat.held = !house.vat.isUp;
    house.for(4 + (turn % 3) * 3);
    house.vat.held = null;
    house.for(7);
  }
};

const rows: readonly Row[] = [
  [
    "six buckets in half an hour: nobody where a level sees them; else told once that the fill is long; a pack a minute the same",
    () => [...kits, ...kits.map(([, kit]) => ["", slow(kit)] as const)].map(([, kit]) => calls(kit, buckets)),
    [unseen, [], [], unseen, unseen, [], [], unseen],
  ],
  ...each("all boards start again within a minute of a storm, in mid-fill", storm),
  ...each("a cat plays with the float at rest, twelve times", (house) => {
    cat(house.for(600), 12);
    house.for(1800);
  }),
  ...each("a cat lies on the float in mid-fill for ten minutes", (house) =>
    mid(house, () => {
      house.vat.held = true;
      house.for(600);
      house.vat.held = null;
    }).for(1200),
  ),
  ...each("the power strip is off for 40 s in mid-fill", (house) =>
    mid(house, () => {
      house.isShut = true;
      for (const board of [house.wall, house.yard]) board.link = "off";
      house.for(20).reboots("wall", 10).reboots("yard", 10);
      house.isShut = false;
    }).for(1200),
  ),
  ...each("the gateway starts again each ten minutes of an evening", (house) => {
    for (let turn = 0; turn < 6; turn += 1) {
      house.draw(turn % 2 === 0 ? 24 : 6).for(300);
      house.restart().for(300);
    }
  }),
  [
    "the pressure falls to a fifth for a fill: nobody where a level sees it rise; else told, as it calls three times as long as ever",
    () =>
      kits.map(([, kit]) =>
        calls(kit, (house) => {
          house.a.flow = 0.8;
          house.fills(1).for(600);
        }),
      ),
    [unseen, [], [], unseen],
  ],
  ...each("a hose brings 20 L past the meter in a fill, and the float ends it: nobody is called", (house) => {
    house.draw(30).pour(20, 10, 1).filled(1800);
  }),
  [
    "somebody works on the bed, the water is shut, 3 min of 30 µS/cm are let go, and a new bed is entered; they say that they are done",
    () =>
      calls(both, (house) => {
        house.works("stage", "bed", 30);
        house.isShut = true;
        house.for(600);
        house.bench.act({ type: "medium-change", stage: "bed", medium: "new" }, house.nowS);
        house.a.kappa = 30;
        house.a.q = 4;
        house.for(180);
        house.a.kappa = 0.3;
        house.isShut = false;
        house.bench.act({ type: "work-done", subject: { kind: "stage", id: "bed" } }, house.nowS);
        house.for(300).fills(2).for(1800);
      }),
    [],
  ],
  [
    "two vats on one meter are drawn from at once, and fill together",
    () =>
      calls({ ...both, vats: ["vat", "tub"] }, (house) => {
        for (const litres of [24, 12, 30]) {
          house.draw(litres).draw(litres, 20, "tub");
          house.until(() => house.vat.isUp && house.vats.tub?.isUp === true).for(900);
        }
      }),
    [],
  ],
  [
    "a pump makes waves of 2 L in a level for an hour and a fill",
    () =>
      [level, both].map((kit) =>
        calls(kit, (house) => {
          let phase = 0;
          house.vat.reads = (litres) => {
            phase += 2.1;
            return litres + 2 * Math.sin(phase);
          };
          house.for(1800).fills(2).for(1800);
        }),
      ),
    [[], []],
  ],
  [
    "by hand: filled, the tap shut at the trip, and nobody says that it is over",
    () =>
      [meter, level, both, float].map((kit) =>
        calls(byHand(kit), (house) => {
          house.draw(24).for(300).act("fill-started");
          house.vat.tap = true;
          house.until(({ vat }) => vat.isUp).for(6);
          house.vat.tap = false;
          house.for(7200);
        }),
      ),
    [[], [], [], []],
  ],
  [
    "the mains go from 400 to 800 µS/cm, and the bed holds it back",
    () =>
      calls(meter, (house) => {
        house.mains = 800;
        house.fills(3);
      }),
    [],
  ],
  [
    "somebody lifts the stop float for a test, says so, and lets it go: at rest and in mid-fill",
    () =>
      [level, both].map((kit) =>
        calls(kit, (house) => {
          const lifts = () => {
            house.bench.act({ type: "proof-start", float: "vat.stop", method: "lifted" }, house.nowS);
            house.for(15);
            house.vat.held = true;
            house.for(20);
            house.vat.held = null;
            house.for(20);
          };
          house.draw(10).for(60);
          lifts();
          house.for(600);
          mid(house, lifts);
          house.for(600);
        }),
      ),
    [[], []],
  ],
];
table("a quiet evening at the millpond", rows);
