// Buckets taken one soon after another from a cask that is filled by hand, its tap shut. What should come of it was written down
// before the first run: nothing has come in, and what stands at the probe is not judged.
import { type Row, table } from "../scenario-table.ts";
import { cooperage } from "./cooperage.ts";

/** Four buckets, so many seconds between them, from a full cask. */
const bouts = [
  [150, 75, 30],
  [160, 80, 35],
  [145, 60, 25],
  [170, 45, 45],
  [120, 40, 40],
] as const;
/** Fills that were told since, and who was called, after buckets of 9 to 10 L. */
function taken(every: number, sigma: number) {
  const house = cooperage({ level: true, manual: true, sigma, every }).known(6, 60);
  const [fromS, filled] = [house.nowS, house.ends.length];
  for (const [turn, bout] of [...bouts, ...bouts].entries()) {
    house.for(1800 + turn);
    for (const [at, gapS] of [...bout, 1200].entries()) house.draw(9 + at / 3, 22).for(gapS);
    house.byHand();
  }
  house.for(600);
  return [house.ends.length - filled, house.since(fromS)];
}

const rows: readonly Row[] = [5, 10].map(
  (every): Row => [
    `four buckets within minutes, the tap shut, read each ${every} s: a fill for each time that it was opened, and nobody is called`,
    () => taken(every, 0.2),
    [10, []],
  ],
);

table("buckets from a cask that is filled by hand", rows);
