import {
  type BreakthroughPoint,
  breakOfDepth,
  compute,
  crossingOf,
  depthOfBreak,
  fitBreakthrough,
  shareOfFeed,
  unusedBedM,
  volumeAtShare,
  volumeOfShare,
  wholeVolume,
} from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

// Geankoplis, Transport Processes, example 12.3-1: hours and c/c0 of a column.
const hours = [0, 3, 3.5, 4, 4.5, 5, 5.5, 6, 6.2, 6.5, 6.8];
const shares = [0, 0, 0.002, 0.03, 0.155, 0.396, 0.658, 0.903, 0.933, 0.975, 0.993];
const column: BreakthroughPoint[] = hours.map((volumeL, place) => ({
  volumeL,
  share: shares[place] as number,
}));

function fitted(points: readonly BreakthroughPoint[]) {
  const fit = fitBreakthrough(points);
  if (!fit.ok) throw new Error(fit.message);
  return fit.curve;
}

describe("a breakthrough", () => {
  it("at the foot the curve is early, so the points win; above them the curve is asked", () => {
    const curve = fitted(column);
    const foot = volumeAtShare(column, curve, 0.01);
    expect(foot).toEqual({ volumeL: expect.closeTo(3.643, 3), by: "points" });
    expect(volumeOfShare(curve, 0.01)).toBeCloseTo(3.387, 3);
    const early = column.slice(0, 5);
    expect(volumeAtShare(early, fitted(early), 0.9).by).toBe("curve");
  });
  it("the integral of what was held is the whole bed", () => {
    expect(wholeVolume(column)).toBeCloseTo(5.18875, 9);
    expect(() => wholeVolume(column.toReversed())).toThrow("in order of volume");
  });
  it("a wider confidence is a wider interval around the same half", () => {
    const [narrow, wide] = [fitBreakthrough(column, 0.5), fitBreakthrough(column, 0.99)];
    if (!narrow.ok || !wide.ok) throw new Error("no fit");
    expect(narrow.curve.halfL).toBe(wide.curve.halfL);
    expect(wide.curve.halfIntervalL[0]).toBeLessThan(narrow.curve.halfIntervalL[0]);
    expect(wide.curve.halfIntervalL[1]).toBeGreaterThan(narrow.curve.halfIntervalL[1]);
  });
  it("a curve's own points give it back, and volumes rise with the share", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 500, max: 3000, noNaN: true }),
        fc.double({ min: 5, max: 30, noNaN: true }),
        (half, sharpness) => {
          const rate = sharpness / half;
          const points = Array.from({ length: 20 }, (_, place) => {
            const volumeL = (place / 12) * half;
            return { volumeL, share: 1 / (1 + Math.exp(rate * (half - volumeL))) };
          });
          const curve = fitted(points);
          return (
            Math.abs(curve.halfL / half - 1) < 1e-6 &&
            Math.abs(curve.ratePerL / rate - 1) < 1e-6 &&
            volumeOfShare(curve, 0.1) < volumeOfShare(curve, 0.2)
          );
        },
      ),
    );
  });
  it("a rise that falls back is no crossing; one that stays is", () => {
    const spike = [0, 0.2, 0, 0, 0.3, 0.5].map((share, place) => ({ volumeL: place, share }));
    expect(crossingOf(spike, 0.1)).toBeCloseTo(3 + 1 / 3, 9);
    expect(crossingOf(spike.slice(0, 4), 0.1)).toBeNull();
    expect(crossingOf([], 0.1)).toBeNull();
  });
  it("shares come from conductivities with the fresh bed as nought", () => {
    expect(shareOfFeed(0.055, 500)).toBe(0);
    expect(shareOfFeed(500, 500)).toBe(1);
    expect(() => shareOfFeed(1, 0.05)).toThrow("conductivity of the feed");
  });
  it("what can't be fitted says why, as a plain outcome by name too", () => {
    expect(fitBreakthrough(column.slice(0, 2))).toMatchObject({ code: "too-few-points" });
    expect(fitBreakthrough([0, 1, 2, 3].map((volumeL) => ({ volumeL, share: 0 })))).toMatchObject({
      code: "not-rising",
    });
    expect(compute("breakthrough-fit", { volume: [1, 2, 3], share: [0, 0, 0] })).toMatchObject({
      ok: true,
      values: { outcome: "not-rising" },
    });
    expect(compute("breakthrough-fit", { volume: [1, 2, 3], share: [0, 0] })).toMatchObject({
      code: "out-of-range",
    });
  });
});

describe("the unused bed", () => {
  it("a longer bed's break and a longer break's bed are one another's inverse", () => {
    const share = fc.double({ min: 0.1, max: 1, noNaN: true });
    fc.assert(
      fc.property(share, fc.double({ min: 1, max: 5, noNaN: true }), (used, depth) => {
        const later = breakOfDepth(1, 7, used, depth);
        return Math.abs(depthOfBreak(1, 7, used, later) / depth - 1) < 1e-9;
      }),
    );
    expect(unusedBedM(0.4, 65, 100)).toBeCloseTo(0.14, 12);
    expect(() => breakOfDepth(1, 7, 0.5, 0.4)).toThrow("breaks at once");
    expect(() => unusedBedM(1, 8, 7)).toThrow("break is 8");
  });
});
