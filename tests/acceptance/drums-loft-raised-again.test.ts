// A loft by a model of its own: a stop float hangs 30 L lower for a while, then where it hung before. Written down before the
// first run.
import { describe, expect, it } from "vitest";
import type { Deed, Lived } from "./loft-life.ts";
import { expectWokenDry, fillsAt, hangs, kits, on, T, take, tale, wakes, when } from "./loft-plans.ts";

const drawS = (turn: number) => 2000 + 1600 * turn;
const draws = (times: number): Deed[] =>
  Array.from({ length: times }, (_, turn): Deed => [drawS(turn), take(22)]);
const tripsAt =
  (upAt: number): Deed[1] =>
  ({ butt }: Lived) =>
    void Object.assign(butt, { upAt, downAt: upAt - 20 });
/** It hangs lower for so many fills; whoever is woken by a fill resets it later, and says nothing of the float. */
const lowerFor = (low: number, high: number): Deed[] => [
  [10, tripsAt(150)],
  [100, take(60)],
  ...draws(low + high),
  [drawS(low) - 200, tripsAt(180)],
  ...Array.from(
    { length: high },
    (_, turn): Deed => [drawS(low + turn) + 1200, on("reset", "drum-not-stopping")],
  ),
];

describe.each(["level", "levelKnown", "both"] as const)(
  "%s: a float hangs 30 L lower for nine fills",
  (kit) => {
    it("once it hangs where it did before, one fill wakes and none after it", () => {
      const told = tale(kits[kit], drawS(13) / 60, lowerFor(9, 4));
      expect(wakes(told).length).toBeLessThanOrEqual(1);
      expect(wakes(told).filter(({ atS }) => atS >= T + drawS(10))).toEqual([]);
    });
    it("and it hangs four fills later: woken before the edge", () => {
      const hung = when(drawS(13) + 60, fillsAt(165), hangs(false), 900);
      const told = tale(kits[kit], drawS(13) / 60 + 25, [...lowerFor(9, 5), ...hung]);
      expectWokenDry(told, T + drawS(13));
      // As where it was never moved: past its trip, not at the brim.
      expect(wakes(told).find(({ atS }) => atS >= T + drawS(13))?.atS).toBeLessThan(T + drawS(13) + 540);
    });
  },
);
