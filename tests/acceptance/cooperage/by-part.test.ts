// A gauge that reads too little for nine fills and is then set right by half of it, and nobody answers what is told of it. Each
// expectation was written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { cooperage } from "./cooperage.ts";

const isWake = ({ says }: { readonly says: string }) => says.endsWith("wake");
const byPart = (offL: number, heights: boolean) => {
  const house = cooperage({ level: true, sigma: 0.2, heights }).known();
  house.cask.gauge.off = offL;
  house.fills(9);
  const told = house.calls.length;
  house.cask.gauge.off = offL / 2;
  house.fills(6);
  return { house, wakes: house.calls.slice(told).filter(isWake).length };
};

const rows: readonly Row[] = [-30, -20, -12].flatMap((offL): Row[] => [
  [
    `${-offL} L too little, then half of that: two fills wake, and where they tripped the next ones do`,
    () => [true, false].map((heights) => byPart(offL, heights).wakes),
    [2, 2],
  ],
  [
    "… and it hangs: woken dry",
    () => {
      const { house } = byPart(offL, true);
      house.draw(24).cask.held = "dry";
      const call = house.firstCall(10_800, isWake);
      return call && [call.says, call.spilt];
    },
    ["drum-not-stopping wake", 0],
  ],
  [
    "… and is set right wholly, and hangs: woken dry",
    () => {
      const { house } = byPart(offL, true);
      house.cask.gauge.off = 0;
      house.fills(3).draw(24).cask.held = "dry";
      const call = house.firstCall(10_800, isWake);
      return call && [call.says, call.spilt];
    },
    ["drum-not-stopping wake", 0],
  ],
]);

table("gauges of the cooperage that were set right by part", rows);
