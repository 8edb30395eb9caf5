// Buckets from a drum into which nothing comes, by a level with 0.5 L of noise, against litres that are known. What is booked too
// much of each adds up, and after a few looks like water that came in. The limits are four times the noise of two medians of five.
import { describe, expect, it } from "vitest";
import { takeLevel } from "../../../gateway/src/fills/witness/level.ts";
import { newLevelTrace } from "../../../gateway/src/fills/witness/level-trace.ts";
import { createRandom } from "../../../gateway/src/simulator/index.ts";
import { place as usual } from "./level-place.ts";

const place = { ...usual, stopWet: true };
const everyS = 15;

/** 180 L, one bucket of 5 L within 10 s after half an hour; what was booked of it, L. `off`: noise of a reading, L. */
function booked(off: (atS: number) => number): number {
  const trace = newLevelTrace();
  for (let atS = 0; atS < 2400; atS += everyS) {
    const drawn = Math.min(5, Math.max(0, (atS - 1800) / 2));
    takeLevel(trace, place, atS * 1000, 180 - drawn + off(atS));
  }
  return trace.drawnL;
}

describe("a bucket of 5 L by a level with 0.5 L of noise", () => {
  it("one low reading, long after it, is not where the level came to rest", () => {
    const random = createRandom(3);
    const low = 1815 + 90;
    const litres = booked((atS) => (atS === low ? -1.4 : 0.5 * (2 * random() - 1)));
    expect(Math.abs(litres - 5)).toBeLessThan(1);
  });

  it("is booked as no more and no less than it was, one with another", () => {
    const offs = Array.from({ length: 200 }, (_, index) => {
      const random = createRandom(index + 1);
      return (
        booked(() => 0.5 * Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())) - 5
      );
    }).sort((one, other) => one - other);
    expect(Math.abs(offs.reduce((sum, off) => sum + off, 0) / offs.length)).toBeLessThan(0.2);
    expect(Math.max(...offs.map(Math.abs))).toBeLessThan(1.6);
  });
});
