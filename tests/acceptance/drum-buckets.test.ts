// More is drawn than comes in, by bucket and by hose. Each expectation was written down from the physics before the first run.
import { describe, expect, it } from "vitest";
import type { Kit } from "./drum-house.ts";
import { drawEvery, story } from "./drum-story.ts";

const level: Kit = { level: true, tripsAt: 180, releasesAt: 160 };
const both: Kit = { ...level, meter: true };
const slow = { pressS: 10, drumsS: 10 };
const calm = drawEvery(1200, 21, 60);

describe("two buckets within a minute", () => {
  it("at rest: 20 L drawn, no fill made up, nobody called", () => {
    const s = story(level, {
      startL: 200 - 21,
      tripL: 170,
      releaseL: 120,
      ...slow,
      pressS: 5,
      drumsS: 5,
      draw: (atS) => ((atS > 600 && atS <= 605) || (atS > 640 && atS <= 645) ? 120 : 0),
    });
    s.live(1800);
    const drawn = s.bench.outcomes.filter((one) => one.kind === "draw");
    const last = new Map(drawn.map((one) => [one.id, one.litres]));
    expect([...last.values()].reduce((sum, l) => sum + l, 0)).toBeCloseTo(20, -0.5);
    expect([s.fills().length, s.calls()]).toEqual([0, []]);
  });
  it("in mid-fill: the litres that came in are counted within 5 %", () => {
    const s = story(level, {
      startL: 120,
      ...slow,
      pressS: 5,
      drumsS: 5,
      draw: (atS) => ((atS > 400 && atS <= 405) || (atS > 440 && atS <= 445) ? 120 : 0),
    });
    s.live(2400);
    expect(s.fills().length).toBe(1);
    expect(Math.abs(s.litres() - s.truth.inL)).toBeLessThan(0.05 * s.truth.inL);
    expect(s.calls()).toEqual([]);
  });
});

describe("more is drawn than comes in", () => {
  it("6 L/min out and 4 in for 20 min: the float calls all the while, and nobody is called", () => {
    const s = story(both, {
      startL: 181,
      ...slow,
      noiseL: 0.1,
      draw: (atS) => (atS < 6000 ? calm(atS) : atS < 7200 ? 6 : 0),
    });
    s.live(9000);
    expect(s.calls()).toEqual([]);
  });
});
