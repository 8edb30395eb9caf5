// A level whose noise rises tenfold while nothing is wrong with the stop: it hides more than before, and that is all. One
// reading of it in a thousand passes three standard deviations, many times a day: no water does so. Nobody is called for
// it, no fill is told to have run past its stop, and a true flood is told before the brim all the same. Written down from
// the physics before the first run.
import { describe, expect, it } from "vitest";
import { drawEvery, story } from "./drum-story.ts";

const hourS = 3600;
const beginS = 6 * hourS;
const often = drawEvery(2400, 22, 60);

/** Sums of twelve even numbers, as good as normal; 0.25 L at first, 2.5 L from six hours on. */
function rough(seed: number) {
  let state = seed;
  const normal = () => {
    let sum = -6;
    for (let one = 0; one < 12; one += 1) {
      state = (state * 16_807) % 2_147_483_647;
      sum += state / 2_147_483_647;
    }
    return sum;
  };
  return (atS: number, litres: number) =>
    Math.round(10 * (litres + (atS < beginS ? 0.25 : 2.5) * normal())) / 10;
}

describe("a level whose noise rises from 0.25 to 2.5 L, beside a meter", () => {
  it.each([1, 2, 3])("calls nobody, and each fill was stopped by its float: %i", (seed) => {
    const lived = story({ level: true, meter: true }, { startL: 181, draw: often, levelSays: rough(seed) });
    lived.live(14 * hourS);
    expect(lived.calls()).toEqual([]);
    expect(lived.words()).not.toContain("hold");
    const fills = new Map(lived.fills().map((fill) => [fill.id, fill]));
    // One for each draw.
    expect(fills.size).toBe(21);
    for (const { end, litres } of fills.values()) {
      expect(end).toBe("float-tripped");
      expect(Math.abs((litres ?? 0) - 22)).toBeLessThan(1);
    }
  });

  it("calls nobody where two readings in a row lie 10 L too high, which noise does in a few days", () => {
    const says = rough(4);
    // At rest, a quarter of an hour after each trip.
    const isHigh = (atS: number) => atS > beginS + hourS && [1500, 1510].includes(atS % 2400);
    const lived = story(
      { level: true, meter: true },
      { startL: 181, draw: often, levelSays: (atS, litres) => says(atS, isHigh(atS) ? litres + 10 : litres) },
    );
    lived.live(12 * hourS);
    expect(lived.calls()).toEqual([]);
  });

  it.each([1, 2, 3])(
    "is woken by before the brim where the float hangs dry and the valve open: %i",
    (seed) => {
      const hangsS = beginS + 2 * hourS;
      const lived = story(
        { level: true, meter: true },
        {
          startL: 181,
          draw: (atS) => (atS < hangsS + 60 ? often(atS) : 0),
          levelSays: rough(seed),
          valve: (atS, wet) => atS >= hangsS || !wet,
          contact: (atS, wet) => wet && atS < hangsS,
        },
      );
      lived.live(hangsS + hourS);
      expect(lived.calledAtS("drum-not-stopping")).toBeGreaterThan(hangsS);
      expect(lived.calledAtS("drum-not-stopping")).toBeLessThan(lived.truth.overAtS ?? 0);
    },
  );
});
