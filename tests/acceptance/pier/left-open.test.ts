// A drum with a float alone, filled by hand, whose tap is left open. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { Pier } from "./pier.ts";

/** Drawn down to 100 L, and filled by hand up to so many. */
const filledTo = (litres: number) => {
  const pier = new Pier({}).known();
  return pier
    .draw(pier.litres - 100)
    .for(900)
    .opens()
    .for(7200, (now) => now.litres >= litres);
};
const told = (pier: Pier, fromS: number) => pier.told(fromS).map((one) => one.replace(/ \d+s$/, ""));

const rows: readonly Row[] = [
  [
    "“stopped” is said at 140 L and the tap left open: told before the brim",
    () => {
      const pier = filledTo(140);
      const { nowS } = pier;
      pier.act("fill-stopped");
      pier.for(7200, () => told(pier, nowS).length > 0);
      return [told(pier, nowS), pier.litres > 180, pier.litres < 186, pier.spilt];
    },
    [["unplanned-inflow tell"], true, true, 0],
  ],
  [
    "… and it is over when they say that they closed the supply",
    () => {
      const pier = filledTo(140);
      const { nowS } = pier;
      pier.act("fill-stopped");
      pier.for(900).shuts(false).act("supply-closed");
      pier.for(900);
      const isActive = pier.bench
        .standing()
        .some(({ condition, active }) => condition === "unplanned-inflow" && active);
      return [told(pier, nowS), isActive];
    },
    [["unplanned-inflow tell"], false],
  ],
  [
    "“stopped” is said a minute before the trip, the tap shut at the trip: quiet",
    () => {
      const pier = filledTo(176);
      const { nowS } = pier;
      pier.act("fill-stopped");
      pier
        .for(120, ({ isUp }) => isUp)
        .shuts(false)
        .for(3600);
      return told(pier, nowS);
    },
    [],
  ],
  [
    "stopped at 140 L; a bucket 45 min later trips the float: quiet",
    () => {
      const pier = filledTo(140);
      const { nowS } = pier;
      pier.shuts().for(2700);
      pier.poured = 90;
      pier.for(30);
      pier.poured = 0;
      pier.for(3600);
      return told(pier, nowS);
    },
    [],
  ],
  [
    "stopped after the trip; drawn down past its release, and a bucket 10 min later trips it again: quiet",
    () => {
      const pier = filledTo(180.5).shuts();
      const { nowS } = pier;
      pier.for(60).draw(25).for(600);
      pier.poured = 50;
      pier.for(40);
      pier.poured = 0;
      pier.for(3600);
      return told(pier, nowS);
    },
    [],
  ],
  [
    "stopped at 140 L, begun again and filled to the float: quiet",
    () => {
      const pier = filledTo(140);
      const { nowS } = pier;
      pier.shuts().for(300).fill().for(3600);
      return told(pier, nowS);
    },
    [],
  ],
];

table("a tap of the pier that is left open", rows);
