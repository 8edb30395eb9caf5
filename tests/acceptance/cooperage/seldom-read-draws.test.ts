// Boards of the cooperage that send a pack a minute, and draws that follow each other within a quarter of an hour. What should come of
// it was written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { type Cooperage, cooperage } from "./cooperage.ts";

const slow = (sigma: number) => cooperage({ level: true, every: 60, sigma }).known(10, 24);

/** So many litres each 12 min: fills and trips since, and who was called. */
function each12Min(house: Cooperage, litres: number) {
  const { cask, nowS: fromS, ends } = house;
  let trips = 0;
  let wasUp = cask.isUp;
  for (let turn = 0; turn < 12; turn += 1) {
    const untilS = house.nowS + 720;
    house.draw(litres).until(() => {
      if (cask.isUp && !wasUp) trips += 1;
      wasUp = cask.isUp;
      return house.nowS >= untilS;
    });
  }
  house.for(900);
  return [house.ends.length - ends.length - trips, house.since(fromS)];
}

const rows: readonly Row[] = [
  ...[0.1, 0.25, 0.5].map(
    (sigma): Row => [
      `24 L each 12 min, ${sigma} L of noise: as many fills as trips, and nobody is called`,
      () => each12Min(slow(sigma), 24),
      [0, []],
    ],
  ),
];

table("draws from the cooperage's gauges that are read once a minute", rows);
