import type { Lived, Plan } from "../../acceptance/outside-life.ts";
import { counting, drawn, kits, released, usual, usualS } from "../../acceptance/outside-plans.ts";
import { type Draw, drawOf } from "./draw.ts";
import { type Fault, type FaultOf, fault } from "./faults.ts";
import { badWater, draw, type Happening, reboot, restart, silence } from "./happenings.ts";

const hours = 4;
/** Houses, and what of them may fail. */
const houses = {
  meter: ["probe", "meter", "float"],
  both: ["probe", "meter", "level", "float"],
  level: ["probe", "level", "float"],
  overflow: ["probe", "meter", "float"],
  float: ["probe", "float"],
  twoBoth: ["probe", "meter", "level", "float"],
} as const satisfies Partial<Record<keyof typeof kits, readonly FaultOf[]>>;
export type House = keyof typeof houses;
export const houseNames = Object.keys(houses) as readonly House[];

/** A life of some hours after six usual fills: what happens in it, and how its nodes speak. */
export interface RandomPlan {
  readonly seed: number;
  readonly house: House;
  readonly tubs: readonly string[];
  /** Nodes count changes and litres. */
  readonly counts: boolean;
  readonly everyS: number;
  readonly noiseL: number;
  readonly happenings: readonly (Happening | Fault)[];
}

function drawsOf(source: Draw, tubs: readonly string[]): Happening[] {
  const found: Happening[] = [];
  for (let atS = source.whole(0, 900); atS < hours * 3600 - 2400; atS += source.whole(500, 3500))
    found.push(draw(source, atS, source.of(tubs)));
  return found;
}

/** The life of a seed: draws, often bad water, up to two silences, starts or outages, and in half of all one fault. */
export function randomPlan(seed: number): RandomPlan {
  const source = drawOf(seed);
  const { of, chance, whole } = source;
  const house = of(houseNames);
  const tubs = house === "twoBoth" ? ["a", "b"] : ["tub"];
  const happenings: (Happening | Fault)[] = drawsOf(source, tubs);
  if (chance(0.65)) for (let count = whole(1, 2); count > 0; count -= 1) happenings.push(badWater(source));
  for (let count = whole(0, 2); count > 0; count -= 1)
    happenings.push(of([silence, silence, silence, restart, reboot])(source));
  if (chance(0.5)) happenings.push(fault(source, new Set(houses[house])));
  return {
    seed,
    house,
    tubs,
    counts: chance(0.5),
    everyS: of([5, 5, 15, 30]),
    noiseL: of([0.05, 0.15, 0.25]),
    happenings,
  };
}

/** Lives a plan through the whole path, with some of its happenings alone if they are given. */
export function liveRandomly(plan: RandomPlan, happenings = plan.happenings): Lived {
  const { seed, house, tubs, counts, everyS, noiseL } = plan;
  const speaks: Plan["events"][number] = [
    0,
    (life) => {
      for (const board of [life.press, life.tubs]) board.everyS = everyS;
      life.levelNoise = noiseL;
    },
  ];
  const before = tubs.flatMap((name, index) => [
    released(1, name),
    ...[12, 38, 24, 41, 18, 36].map(
      (litres, fill) => [600 + 700 * index + fill * 1500, drawn(litres, 22, name)] as Plan["events"][number],
    ),
  ]);
  return usual(
    kits[house],
    hours,
    happenings.flatMap(({ events }) => events),
    [speaks, ...(counts ? [counting] : []), ...before],
    { seed, ...(tubs.length > 1 ? { tubs: { a: {}, b: {} } } : {}) },
  );
}

/** Samples of a life after its usual fills. */
export const samplesAfter = ({ samples }: Lived): Lived["samples"] =>
  samples.filter(({ atS }) => atS >= usualS);
