// Boards of the cooperage that send a pack a minute: where the float trips is learned by the gauge all the same. Each expectation was
// written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { cooperage, type Kit } from "./cooperage.ts";

const slow: Kit = { level: true, every: 60, sigma: 0.2 };
const kits: readonly (readonly [string, Kit])[] = [
  ["a gauge", { ...slow, sigma: 0.5 }],
  ["a gauge, and 6 L/min", { ...slow, flow: 6 }],
  ["a gauge and a meter", { ...slow, meter: true }],
  ["a gauge, its heights in the line file", { ...slow, heights: true }],
];

const rows: readonly Row[] = kits.map(
  ([name, kit]): Row => [
    `${name}: told to trip within 1 L of where it does, nobody called; one that hangs wakes dry`,
    () => {
      const house = cooperage(kit).known(14, 24).fills(4, 24, 2700);
      const fromS = house.nowS;
      const tripL = house.ends.at(-1)?.tripAtL ?? 0;
      const quiet = house.fills(6, 24, 2700).since(fromS);
      house.draw(24).cask.held = "dry";
      const call = house.firstCall(10_800, ({ says }) => says.endsWith("wake"));
      return [Math.abs(tripL - 180) < 1, quiet, call?.says, call?.spilt];
    },
    [true, [], "drum-not-stopping wake", 0],
  ],
);

const behindMembrane: Row = [
  "a gauge behind a membrane, 60 L are drawn at a time: nobody is called; one that hangs wakes dry",
  () => {
    const house = cooperage({ ...slow, sigma: 0.25, membrane: true, flow: 0.5 }).known(12, 60);
    const calls = house.since(0);
    house.draw(24).cask.held = "dry";
    const call = house.firstCall(10_800, ({ says }) => says.endsWith("wake"));
    return [calls, call?.says, call?.spilt];
  },
  [[], "drum-not-stopping wake", 0],
];

table("gauges of the cooperage that are read once a minute", [...rows, behindMembrane]);
