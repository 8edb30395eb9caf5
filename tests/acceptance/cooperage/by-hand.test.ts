// A cask that is filled by hand and has a gauge: somebody says too early that they have shut the tap. The expectation was written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { cooperage } from "./cooperage.ts";

const begun = () => {
  const house = cooperage({ manual: true, level: true, sigma: 0.2, every: 15 }).known(10, 40);
  house.draw(40).act("fill-started");
  house.cask.tap = true;
  return house;
};

const rows: readonly Row[] = [
  [
    "told as finished 3 min before the tap was shut; a bucket is drawn later: nobody is called",
    () => {
      const house = begun();
      house.until(() => house.cask.litres >= 168).act("fill-stopped");
      house.until(() => house.cask.isUp).cask.tap = false;
      const fromS = house.nowS;
      return house.for(600).draw(8).for(900).since(fromS);
    },
    [],
  ],
];

table("By hand, with a gauge", rows);
