// The router is away over a whole fill, and what the boards kept comes in one after the other: a fill that is over for long makes no
// silence more urgent. Written down before the mend.
import { type Row, table } from "../scenario-table.ts";
import { both, float, type Kit, level, meter } from "./lines.ts";
import { pond } from "./lived.ts";
import type { Millpond } from "./millpond.ts";

type Name = "wall" | "yard";

/** Four packs a second come of each of these boards, the oldest first, while the others' wait. */
function trickles(house: Millpond, names: readonly Name[]) {
  while (names.some((name) => house[name].kept.length > 0)) {
    for (const name of names)
      for (const pack of house[name].kept.splice(0, 4)) house.bench.node(name, pack, house.atS);
    house.for(1);
  }
  for (const name of names) house[name].link = "on";
}

function calledAsItComes(kit: Kit, rounds: readonly (readonly Name[])[]) {
  const house = pond(kit).known();
  house.wall.link = "kept";
  house.yard.link = "kept";
  house.for(400);
  const silent = new Map(
    house.bench.outcomes.flatMap((one) =>
      one.kind === "alarm" && one.alarm.condition.endsWith("-silent") ? [[one.alarm.key, one.alarm]] : [],
    ),
  );
  for (const { key, occurrence } of silent.values())
    house.bench.act({ type: "acknowledge", key, occurrence }, house.nowS);
  house
    .draw(24)
    .until(({ vat }) => vat.isUp)
    .for(1200);
  const backS = house.nowS;
  for (const names of rounds) trickles(house, names);
  return [silent.size, house.for(600).calls(backS, true)];
}

const kits = [
  ["meter", meter],
  ["level", level],
  ["meter and level", both],
  ["float", float],
] as const;
const orders = [[["wall"], ["yard"]], [["yard"], ["wall"]], [["wall", "yard"]]] as const;
const rows: readonly Row[] = kits.flatMap(([says, kit]) =>
  orders.map(
    (rounds): Row => [
      `${says}: what ${rounds.map((names) => names.join(" and ")).join(", then ")} kept comes, and nobody is called`,
      () => calledAsItComes(kit, rounds),
      [3, []],
    ],
  ),
);
table("a fill that was over before it was heard of", rows);
