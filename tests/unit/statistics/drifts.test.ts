import {
  cusumDriftRunLength,
  cusumRunLength,
  ewmaDriftRunLength,
  percentConventions,
  percentDifference,
  spikeDifferentialFlags,
  spikeFlags,
} from "@drumlin/gateway/statistics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

/** Normal values of a fixed sequence: mulberry32 and Box-Muller, so that a run says the same each time. */
function normalValues(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

describe("run lengths under a drift", () => {
  it("are what played runs give", () => {
    const next = normalValues(7);
    const [allowance, limit, drift, runs] = [0.5, 4, 0.05, 4000];
    let values = 0;
    for (let run = 0; run < runs; run += 1) {
      let [sum, mean] = [0, 0];
      while (sum <= limit) {
        mean += drift;
        sum = Math.max(0, sum + next() + mean - allowance);
        values += 1;
      }
    }
    const played = values / runs;
    // Runs scatter by about a third of their length: three standard errors are 1.6 %.
    expect(Math.abs(played / cusumDriftRunLength({ perValue: drift }, allowance, limit) - 1)).toBeLessThan(
      0.016,
    );
  });
  it("shrink as the drift grows, and under a small one stay below those of no shift at all", () => {
    const drifts = fc.double({ min: 0.002, max: 2, noNaN: true });
    fc.assert(
      fc.property(drifts, fc.double({ min: 1.05, max: 3, noNaN: true }), (perValue, times) => {
        const [slow, fast] = [{ perValue }, { perValue: perValue * times }];
        return (
          cusumDriftRunLength(fast, 0.5, 4) <= cusumDriftRunLength(slow, 0.5, 4) &&
          ewmaDriftRunLength(fast, 0.2, 2.9) <= ewmaDriftRunLength(slow, 0.2, 2.9)
        );
      }),
      { numRuns: 20 },
    );
    expect(cusumDriftRunLength({ perValue: 0.001 }, 0.5, 4)).toBeLessThan(2 * cusumRunLength(0, 0.5, 4));
  });
  it("a head start is quicker, a first value on target a value slower at most", () => {
    const ramp = { perValue: 0.2 };
    expect(cusumDriftRunLength(ramp, 0.5, 5, 0.5)).toBeLessThan(cusumDriftRunLength(ramp, 0.5, 5));
    const later = cusumDriftRunLength({ ...ramp, firstOnTarget: true }, 0.5, 5);
    expect(later).toBeGreaterThan(cusumDriftRunLength(ramp, 0.5, 5));
    expect(later).toBeLessThan(cusumDriftRunLength(ramp, 0.5, 5) + 1);
    expect(() => cusumDriftRunLength({ perValue: 0 }, 0.5, 5)).toThrow("from 0.001 to 10");
    expect(() => ewmaDriftRunLength({ perValue: 0.1 }, 0, 3)).toThrow("weight");
  });
});

describe("the differential form of the spike test", () => {
  it("leaves the neighbours of a spike alone, where the mean of the neighbours takes them with it", () => {
    const values = [10, 10, 200, 10, 10];
    const limits = { suspect: 25, fail: 50 };
    expect(spikeFlags(values, limits)).toEqual([2, 4, 4, 4, 2]);
    expect(spikeDifferentialFlags(values, limits)).toEqual([2, 1, 4, 1, 2]);
  });
  it("counts the smaller of the two steps: what stays nearly as high is no spike", () => {
    expect(spikeDifferentialFlags([0, 10, 9.5, 9.4], { suspect: 1, fail: 2 })).toEqual([2, 1, 1, 2]);
  });
  it("takes a step for what it is, and says nothing beside a missing value", () => {
    const limits = { suspect: 1, fail: 2 };
    expect(spikeDifferentialFlags([0, 0, 100, 100, 100], limits)).toEqual([2, 1, 1, 1, 2]);
    expect(spikeDifferentialFlags([0, 9, null, 9, 0], limits)).toEqual([2, 2, 9, 2, 2]);
  });
});

describe("a difference in percent", () => {
  it("counts as its convention says", () => {
    const of = (convention: (typeof percentConventions)[number]) =>
      percentDifference(110, 100, convention, 200);
    expect(percentConventions.map((convention) => Number(of(convention).toFixed(4)))).toEqual([
      10, -10, -9.0909, 9.5238, 5,
    ]);
  });
  it("refuses what would be a percent of nothing, by its name", () => {
    expect(() => percentDifference(1, 0, "of-standard")).toThrow("standard is 0");
    expect(() => percentDifference(0, 1, "correction-of-reading")).toThrow("reading is 0");
    expect(() => percentDifference(1, 2, "of-span")).toThrow("span is 0");
  });
});
