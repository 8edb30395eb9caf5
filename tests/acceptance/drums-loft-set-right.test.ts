// A loft by a model of its own: what was lowered, bit by bit or at once, is set right while the drum is low, so that no leap
// past its last trips shows it. Written down before the first run.
import { expect, it } from "vitest";
import { beginsS, draws, drifts, fills, reads } from "./loft-drift.ts";
import type { Deed } from "./loft-life.ts";
import { expectWokenDry, fillsAt, hangs, kits, T, tale, wakes, when } from "./loft-plans.ts";

const right: Deed = [beginsS(fills) + 70, reads(0)];

it("a level that has lost 21 L is set right in the trough of a draw: one fill at most wakes, and none after it", () => {
  const told = tale(kits.level, 740, [...draws(fills + 6), ...drifts, right]);
  expect(wakes(told).length).toBeLessThanOrEqual(1);
  expect(wakes(told).filter(({ atS }) => atS >= T + beginsS(fills + 1))).toEqual([]);
});

it("and a float that hangs four fills later wakes before the edge", () => {
  const hung = when(beginsS(fills + 4) + 60, fillsAt(165), hangs(false), 900);
  const told = tale(kits.level, 720, [...draws(fills + 5), ...drifts, right, ...hung]);
  expectWokenDry(told, T + beginsS(fills + 4));
});
