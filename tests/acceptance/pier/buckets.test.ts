// Buckets that are poured by hand into a metered drum, and meters that stick. Written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { type Kit, Pier } from "./pier.ts";

const meter: Kit = { meter: true };
/** Drawn down past its float, and a bucket of 25 L half an hour later, which trips it. */
const bucket = (pier: Pier) => {
  pier.draw(pier.litres - 158).for(1800);
  pier.poured = 50;
  pier.for(30);
  pier.poured = 0;
  return pier.for(900);
};
const by = (pier: Pier, fromS: number) => pier.raised(fromS).map((one) => one.replace(/ \d+s$/, ""));
const stuck = () => {
  const pier = new Pier(meter).known();
  pier.meterSees = 0;
  return pier;
};
/** A fill that nobody announces. */
const unsaid = (pier: Pier) =>
  pier
    .draw(60)
    .for(900)
    .opens(false)
    .for(7200, ({ isUp }) => isUp)
    .shuts(false)
    .for(900);

const rows: readonly Row[] = [
  [
    "one bucket trips the float, the meter at 0: nobody is told",
    () => {
      const pier = new Pier(meter).known();
      const { nowS } = pier;
      return [bucket(pier).told(nowS), by(pier, nowS)];
    },
    [[], ["flow-disagrees today"]],
  ],
  [
    "… nor for a bucket between two fills that the meter counts, three times",
    () => {
      const pier = new Pier(meter).known();
      const { nowS } = pier;
      for (let turn = 0; turn < 3; turn += 1) bucket(pier).draw(60).for(900).fill().for(900);
      return pier.told(nowS);
    },
    [],
  ],
  [
    "two in a row: told",
    () => {
      const pier = new Pier(meter).known();
      const { nowS } = pier;
      return bucket(bucket(pier))
        .told(nowS)
        .map((one) => one.replace(/ \d+s$/, ""));
    },
    ["flow-disagrees tell"],
  ],
  [
    "a stuck meter, the fill announced: told as the first one trips",
    () => {
      const pier = stuck();
      const { nowS } = pier;
      pier.draw(60).for(900).fill().for(60);
      return pier.told(nowS).map((one) => one.replace(/ \d+s$/, ""));
    },
    ["flow-disagrees tell"],
  ],
  [
    "a stuck meter, nobody says that they fill: told as the second one trips",
    () => {
      const pier = stuck();
      const { nowS } = pier;
      const first = unsaid(pier).told(nowS);
      return [
        first,
        unsaid(pier)
          .told(nowS)
          .map((one) => one.replace(/ \d+s$/, "")),
      ];
    },
    [[], ["flow-disagrees tell"]],
  ],
];
table("buckets and stuck meters of drums filled by hand", rows);
