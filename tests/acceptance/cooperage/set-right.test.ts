// A gauge that reads 30 L less for nine fills and is then set right, wholly or by part: what comes after it. Each expectation was
// written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { type Cooperage, cooperage } from "./cooperage.ts";

const isWake = ({ says }: { readonly says: string }) => says.endsWith("wake");
const hangs = (house: Cooperage) => {
  house.draw(24).cask.held = "dry";
  const call = house.firstCall(10_800, isWake);
  return call && [call.says, call.spilt];
};
const setRight = (heights: boolean) => {
  const house = cooperage({ level: true, sigma: 0.2, heights }).known();
  house.cask.gauge.off = -30;
  house.fills(9);
  house.cask.gauge.off = 0;
  return house.fills(4);
};
const dry = ["drum-not-stopping wake", 0];

const rows: readonly Row[] = [true, false].flatMap((heights): Row[] => [
  [
    `${heights ? "its line says its heights" : "its heights are learned"}: set right, and it hangs: woken dry`,
    () => hangs(setRight(heights)),
    dry,
  ],
  [
    "… set right, then 20 L too little for three fills, and it hangs: woken dry",
    () => {
      const house = setRight(heights);
      house.cask.gauge.off = -20;
      return hangs(house.fills(3));
    },
    dry,
  ],
]);

table("gauges of the cooperage that were set right", rows);
