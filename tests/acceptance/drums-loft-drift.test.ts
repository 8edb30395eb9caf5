// A loft by a model of its own: a level that reads less from fill to fill, so little each time that no two readings contradict
// each other. Written down before the first run.
import { expect, it } from "vitest";
import { beginsS, draws, drifts, fills, reads } from "./loft-drift.ts";
import type { Deed } from "./loft-life.ts";
import { expectWokenDry, fillsAt, hangs, kits, loud, T, tale, when } from "./loft-plans.ts";

it.each(["level", "both"] as const)(
  "%s: a level loses 0.7 L a fill for 30 fills, and then its float hangs: nobody is called before, and woken before the edge",
  (kit) => {
    const hung = when(beginsS(fills) + 60, fillsAt(165), hangs(false), 900);
    const told = tale(kits[kit], 640, [...draws(fills + 1), ...drifts, ...hung]);
    expect(told.said.filter(({ atS }) => atS >= T && atS < T + beginsS(fills))).toEqual([]);
    expectWokenDry(told, T + beginsS(fills));
  },
);

it("a level that has lost 21 L so is set right while the drum stands: nobody is called then, nor in the fills after it", () => {
  const right: Deed = [beginsS(fills) - 100, reads(0)];
  expect(loud(tale(kits.level, 720, [...draws(fills + 5), ...drifts, right]))).toEqual([]);
});
