// A level by pressure while salt dissolves under it; each expectation was written down before the first run.
import { describe, expect, it } from "vitest";
import { takeLevel } from "../../../gateway/src/fills/witness/level.ts";
import { saltIsOver, saltWentIn, weighedAnew } from "../../../gateway/src/fills/witness/level-salt.ts";
import {
  inflowLevel,
  type LevelTrace,
  levelNow,
  newLevelTrace,
} from "../../../gateway/src/fills/witness/level-trace.ts";
import { place } from "./level-place.ts";

/** Every 5 s a reading of so many litres, and a ripple of 0.05 L. */
function reads(trace: LevelTrace, litres: (s: number) => number, [fromS, toS]: number[], more = {}): void {
  for (let atS = fromS as number; atS < (toS as number); atS += 5)
    takeLevel(trace, { ...place, ...more }, atS * 1000, litres(atS) + 0.05 * Math.sin(atS));
}

/** Salted at 600 s, after it stood at 178 L; each litre is 2.6 % less from then on. */
function salted(kg: number | null, wholeKg = 6) {
  const trace = newLevelTrace();
  reads(trace, () => 178, [0, 600]);
  saltWentIn(trace, { kg, wholeKg }, 600_000);
  weighedAnew(trace);
  return trace;
}
const from = 178 / 1.026;

describe("a level by pressure over salt", () => {
  it("takes the step of another density for no draw", () => {
    const trace = salted(6.3);
    reads(trace, () => from, [600, 1200]);
    expect(trace.drawnL).toBe(0);
    expect(inflowLevel(trace)).toBeCloseTo(178, 0);
    expect(levelNow(trace)).toBeCloseTo(from, 0);
  });

  it.each([5, 9])("takes a sack at once for no water that was poured in: %d L at a blow", (byL) => {
    const trace = salted(10);
    reads(trace, () => from, [600, 700]);
    reads(trace, () => from + byL, [700, 1300]);
    expect(trace.handL).toBeLessThan(0.2);
    expect(inflowLevel(trace)).toBeCloseTo(178, 0);
  });

  it("counts as inflow what is over the weight of the salt: 10 L over 6.3 kg are 3.7", () => {
    const trace = salted(6.3);
    reads(trace, (s) => from + Math.min(10, (s - 600) / 60), [600, 1800]);
    expect((inflowLevel(trace) ?? 0) - 178).toBeGreaterThan(3.4);
    expect((inflowLevel(trace) ?? 0) - 178).toBeLessThan(4.2);
  });

  it("takes two portions of which nobody says how much for no more than the drum takes", () => {
    const trace = salted(null);
    reads(trace, (s) => from + Math.min(6, (s - 600) / 60), [600, 1200]);
    saltWentIn(trace, { kg: null, wholeKg: 6 }, 1_200_000);
    reads(trace, (s) => from + 6 + (s - 1200) / 60, [1200, 1500]);
    expect((inflowLevel(trace) ?? 0) - 178).toBeGreaterThan(4.5);
  });

  it.each([
    ["a meter counts", { meteredLPerMin: 1, meteredSinceMs: 600_000 }],
    ["its valve stands open", { openSinceMs: 600_000 }],
    ["its float calls, or a person fills it, since", { callsSinceMs: 600_000 }],
  ])("counts all of it while %s", (_, more) => {
    const trace = salted(6.3);
    reads(trace, () => from, [600, 605]);
    reads(trace, (s) => from + (s - 605) / 60, [605, 905], more);
    expect((inflowLevel(trace) ?? 0) - 178).toBeGreaterThan(4.5);
  });

  it("counts all of it once the batch is ready, and none of it for a fill that was begun before the salt", () => {
    const over = salted(6.3);
    saltIsOver(over);
    reads(over, (s) => from + (s - 600) / 60, [600, 900]);
    expect((inflowLevel(over) ?? 0) - 178).toBeGreaterThan(4.5);
    const before = salted(6.3);
    reads(before, (s) => from + (s - 600) / 60, [600, 900], { callsSinceMs: 60_000 });
    expect((inflowLevel(before) ?? 0) - 178).toBeLessThan(0.5);
  });
});
