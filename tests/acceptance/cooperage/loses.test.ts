// A cask whose hose bursts: more runs out than comes in while its float calls. Each expectation was written down before the
// first run. What a person draws lets it rise again before that.
import { type Row, table } from "../scenario-table.ts";
import { type Cooperage, cooperage, type Kit } from "./cooperage.ts";

/** Late in the evening, so that it bursts at night; and in the morning. */
const evening = { startS: 17 * 3600 };
const morning = { startS: 4 * 3600 };
/** What is told of it in the first quarter of an hour of its call, which usually lasts 6 min; by day in the first half hour. */
const burst = (given: Kit, perMin: number, answers: (house: Cooperage) => void = () => undefined) => {
  const kit = { ...evening, ...given };
  const house = cooperage({ sigma: 0.25, every: 15, ...kit }).known(12);
  answers(house);
  house.cask.bursts = perMin;
  house.until(() => !house.cask.isUp);
  const fromS = house.nowS;
  return house.for((kit.startS === evening.startS ? 15 : 30) * 60).since(fromS);
};
/** Its overflow float is tried: dry, wet, dry. */
const liftsOverflow = (house: Cooperage) => {
  house.act("proof-start", { float: "cask.overflow", method: "lifted" });
  house.for(30).isOverLifted = true;
  house.for(60).isOverLifted = false;
  house.for(60);
};
const drawn = (kit: Kit, litres: number, perMin: number, flow = 4) => {
  const house = cooperage({ sigma: 0.25, every: 15, ...evening, ...kit }).known(12);
  house.flow = flow;
  const fromS = house.nowS;
  house
    .draw(litres, perMin)
    .until(() => house.cask.isUp)
    .for(600);
  return house.since(fromS);
};
const told = ["fill-long tell"];

const rows: readonly Row[] = [
  ...[5, 6, 10, 20].map(
    (perMin): Row => [
      `level alone, ${perMin} L/min are lost: told`,
      () => burst({ level: true }, perMin),
      told,
    ],
  ),
  ["meter and level, 6 L/min are lost: told", () => burst({ meter: true, level: true }, 6), told],
  ["its valve is read too: told", () => burst({ inlet: true, level: true }, 6), told],
  [
    "its overflow float was proved: told, that one guards against too much",
    () => burst({ overflow: true, level: true }, 6, liftsOverflow),
    told,
  ],
  ["by day, 6 L/min are lost: told", () => burst({ level: true, ...morning }, 6), told],
  ["by day, meter and level: told", () => burst({ meter: true, level: true, ...morning }, 6), told],
  [
    "by day 140 L are drawn in 20 min: nobody is called",
    () => drawn({ level: true, ...morning }, 140, 7),
    [],
  ],
  ["80 L are drawn in 8 min: nobody is called", () => drawn({ level: true }, 80, 10), []],
  ["… with a meter", () => drawn({ meter: true, level: true }, 80, 10), []],
  ["… read once a minute, with a meter", () => drawn({ meter: true, level: true, every: 60 }, 80, 10), []],
  ["60 L are drawn at half the flow: nobody is called", () => drawn({ level: true }, 60, 12, 2), []],
];

table("A cask that loses more than comes in", rows);
