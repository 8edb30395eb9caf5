import { type LevelMean, sinceLastStep, stillDrift } from "@drumlin/gateway/trends";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const minuteMs = 60_000;
/** A mean each 5 min of a level that moves by a function of the hours. */
const means = (count: number, litres: (hours: number) => number): LevelMean[] =>
  Array.from({ length: count }, (_, index) => ({
    tMs: index * 5 * minuteMs,
    litres: litres((index * 5) / 60),
    readings: 10,
  }));

describe("a drum at rest", () => {
  it("says nothing before two hours, then how fast the level falls", () => {
    expect(stillDrift(means(24, (h) => 150 - 2 * h))).toBeNull();
    const drift = stillDrift(means(25, (h) => 150 - 2 * h));
    expect(drift?.litresPerHour).toBeCloseTo(-2, 9);
    expect(drift?.errorLPerHour).toBeCloseTo(0, 9);
  });

  it("what is drawn begins the test anew, at once or steadily; a slow even fall does not", () => {
    const draw = means(20, (h) => (h < 1 ? 150 : 140));
    expect(sinceLastStep(draw, 0.8, 0.2)).toHaveLength(8);
    const small = means(20, (h) => (h < 1 ? 150 : 148.5));
    expect(sinceLastStep(small, 0.8, 0.2)).toHaveLength(8);
    expect(
      sinceLastStep(
        means(20, (h) => 150 - 30 * h),
        0.8,
        0.2,
      ),
    ).toHaveLength(1);
    expect(
      sinceLastStep(
        means(20, (h) => 150 - 6 * h),
        0.8,
        0.2,
      ),
    ).toHaveLength(20);
  });

  it("noise is no step: of 300 nights at rest none is cut, and the drift stays within its errors", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -0.3, max: 0.3, noNaN: true }), { minLength: 30, maxLength: 36 }),
        (noise) => {
          const level = means(noise.length, () => 150).map((mean, index) => ({
            ...mean,
            litres: mean.litres + (noise[index] as number),
          }));
          expect(sinceLastStep(level, 0.8, 0.3)).toHaveLength(noise.length);
          expect(Math.abs(stillDrift(level)?.litresPerHour ?? 0)).toBeLessThan(1);
        },
      ),
      { numRuns: 300 },
    );
  });
});
