// Drums that a person begins to fill though their stop float is wet already. Written down before the first run, but the limit where
// no trip is known (20 L by then).
import { type Row, table } from "../scenario-table.ts";
import { type Kit, Pier } from "./pier.ts";

const meter: Kit = { meter: true };
const both: Kit = { meter: true, noiseL: 0.25 };
const untaught: Kit = { meter: true, float: "wet: true" };

/** Six fills are known, unless told otherwise; it stands at 182 L, the float up. */
const full = (kit: Kit, times = 6) => {
  const pier = times > 0 ? new Pier(kit).known(times) : new Pier(kit);
  pier.litres = 182;
  pier.isUp = true;
  return pier.for(900);
};
/** What was told up to a wake, and how much has run over by then, L. */
const leftOpen = (pier: Pier, forS = 900) => {
  const fromS = pier.nowS;
  pier.opens().for(forS, () => pier.told(fromS).some((one) => one.includes("wake")));
  return { told: pier.told(fromS).map((one) => one.replace(/ \d+s$/, "")), spiltL: pier.spilt, fromS };
};
/** "so" where somebody was told within 15 s, else what was told. */
const toldS = (pier: Pier, fromS: number) =>
  Number.parseInt(pier.told(fromS)[0]?.split(" ")[2] ?? "", 10) <= 15 ? "so" : pier.told(fromS);

const rows: readonly Row[] = [
  [
    "a meter: told as the water comes, woken before the brim",
    () => {
      const pier = full(meter);
      const { told, spiltL, fromS } = leftOpen(pier);
      return [told, spiltL, toldS(pier, fromS)];
    },
    [["watch-lost tell", "drum-not-stopping wake"], 0, "so"],
  ],
  [
    "… though nothing is known of earlier fills, of its trip, or of taps behind the meter",
    () =>
      [full(meter, 0), full(untaught), full(untaught, 0), full({ ...meter, taps: true })].map((pier) => {
        const { told, spiltL } = leftOpen(pier);
        return [told, spiltL];
      }),
    Array.from({ length: 4 }, () => [["watch-lost tell", "drum-not-stopping wake"], 0]),
  ],
  ["a float alone: told a minute after the press", () => leftOpen(full({})).told, ["watch-lost tell"]],
  [
    "a level with a known trip guards it, as ever: nobody is told before it wakes",
    () => {
      const { told, spiltL } = leftOpen(full(both));
      return [told, spiltL];
    },
    [["drum-not-stopping wake"], 0],
  ],
  [
    "12 L are added under the wet float, and the word is taken back some seconds before the tap is shut: told once, not woken",
    () => {
      const pier = new Pier(meter).known();
      pier.draw(pier.litres - 163).for(900);
      const fromS = pier.nowS;
      pier.opens().for(180).shuts().opens(false).for(15).shuts(false).for(3600);
      return [
        pier.told(fromS).map((one) => one.split(" ")[0]),
        pier.bench.standing().filter(({ state }) => state === "unacknowledged"),
      ];
    },
    [["watch-lost"], []],
  ],
  [
    "a press by mistake is taken back within 40 s: nobody is told",
    () =>
      [meter, {}].map((kit) => {
        const pier = full(kit);
        const fromS = pier.nowS;
        pier.act("fill-started");
        pier.for(40).act("fill-stopped");
        return pier.for(3600).told(fromS);
      }),
    [[], []],
  ],
  [
    "the word is taken back, and the tap stays open: told within 3 min",
    () => {
      const pier = new Pier(meter).known();
      pier.draw(pier.litres - 163).for(900);
      pier.opens().for(60);
      const fromS = pier.nowS;
      pier.shuts().opens(false).for(190);
      return pier.told(fromS).map((one) => one.split(" ")[0]);
    },
    ["drum-not-stopping"],
  ],
  [
    "the float is dry at the press, and ends the fill: nobody is told",
    () => {
      const pier = new Pier(meter).known();
      pier.draw(40).for(900);
      const fromS = pier.nowS;
      pier.fill().for(1200);
      return pier.told(fromS);
    },
    [],
  ],
];
table("a fill by hand that begins with a wet float", rows);
