// A gauge that has lost 21 L bit by bit: who is woken once the float hangs, after what looks as if somebody had set it right. Each
// expectation was written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { type Cooperage, cooperage, type Kit } from "./cooperage.ts";

/** Thirty fills in which its gauge reads 0.7 L less from one to the next. */
const slipped = (kit: Kit = {}) => {
  const house = cooperage({ level: true, sigma: 0.2, ...kit }).known();
  for (let fill = 0; fill < 30; fill += 1) {
    house.cask.gauge.off -= 0.7;
    house.fill();
  }
  return house;
};
/** Its float hangs dry after a draw of so much: the first wake, and what was spilt by then. */
const hangs = (house: Cooperage, litres = 24) => {
  house.draw(litres);
  const call = house.hangs();
  return call && [call.says, call.spilt];
};
const poured = () => {
  const house = slipped();
  house.cask.litres += 10;
  return house.for(600);
};
const dry = ["drum-not-stopping wake", 0];

const rows: readonly Row[] = [
  ["nothing else: woken dry", () => hangs(slipped()), dry],
  [
    "10 L are poured back into the full cask, no more than a gauge set right shows: woken dry",
    () => hangs(poured(), 34),
    dry,
  ],
  ["… and one good fill after it", () => hangs(poured().fill(34)), dry],
  [
    "its gauge says nothing for 3 min of the flood: what rose meanwhile is water",
    () => {
      const house = slipped().draw(24);
      const { cask } = house;
      cask.held = "dry";
      house.for(360);
      cask.gauge.isDead = true;
      house.for(180);
      cask.gauge.isDead = false;
      const call = house.firstCall();
      return call && [call.says, call.spilt];
    },
    dry,
  ],
  [
    "its float has stuck up to 198 L and come free: woken then, and when it hangs three fills later",
    () => {
      const house = slipped().draw(24);
      const { cask } = house;
      cask.held = "dry";
      house.until(() => cask.litres >= 198);
      cask.held = null;
      const first = house.for(300).calls.at(-1);
      const calls = house.calls.length;
      house.fill(42).fills(2);
      return [first?.spilt, house.calls.length - calls, hangs(house)];
    },
    [0, 0, dry],
  ],
  [
    "it is set right by 21 L at rest: nobody is called in four fills, and a float that hangs wakes dry",
    () => {
      const house = slipped();
      house.cask.gauge.off = 0;
      const calls = house.for(300).calls.length;
      house.fills(4);
      return [house.calls.length - calls, hangs(house)];
    },
    [0, dry],
  ],
];

table("slipped gauges of the cooperage", rows);
