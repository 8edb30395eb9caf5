import {
  type BreakthroughPoint,
  breakOfDepth,
  compute,
  crossingOf,
  depthOfBreak,
  fitBreakthrough,
  measuredVolume,
  shareOfFeed,
  unusedBedM,
  volumeAtShare,
  volumeOfShare,
  wholeAtLeast,
  wholeBed,
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

// A textbook problem: seconds, and mol/L of copper behind a cation resin fed with 0.18.
const copper: BreakthroughPoint[] = [
  [420, 0],
  [480, 0.0033],
  [510, 0.0075],
  [540, 0.0157],
  [600, 0.0527],
  [660, 0.1063],
  [720, 0.1433],
  [780, 0.1634],
  [810, 0.1722],
  [870, 0.1763],
  [900, 0.18],
].map(([volumeL, molar]) => ({ volumeL: volumeL as number, share: (molar as number) / 0.18 }));

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
    expect(measuredVolume(column)).toBeCloseTo(5.18875, 9);
    expect(() => measuredVolume(column.toReversed())).toThrow("in order of volume");
    const whole = wholeBed(column, fitted(column));
    expect(whole).toMatchObject({ beforeL: expect.closeTo(0, 5), by: "points" });
    expect(whole.afterL).toBeCloseTo(0.0065, 4);
    expect(whole.beforeL + whole.measuredL + whole.afterL).toBeCloseTo(whole.volumeL, 12);
  });
  it("a bed is counted from 0, whatever its first point is", () => {
    const [all, late] = [wholeBed(column, fitted(column)), column.slice(3)];
    const whole = wholeBed(late, fitted(late));
    expect(measuredVolume(late)).toBeLessThan(0.25 * all.volumeL);
    expect(whole.volumeL / all.volumeL).toBeCloseTo(1, 2);
    expect(whole.beforeL).toBeCloseTo(3.98, 2);
  });
  it("a rise cut short goes on by the curve, and its interval holds what the points would have shown", () => {
    for (const [points, whole] of [
      [column, 5.195],
      [copper, 650.258],
    ] as const)
      for (let end = points.length - 1; end > 4; end -= 1) {
        const cut = points.slice(0, end);
        const found = wholeBed(cut, fitted(cut));
        expect(found.measuredL, `${end} points`).toBeLessThan(whole);
        expect(found.volumeL).toBeGreaterThan(0.95 * whole);
        expect(found.lowL).toBeLessThan(whole);
        expect(found.highL).toBeGreaterThan(whole);
      }
    expect(wholeBed(column.slice(0, 5), fitted(column.slice(0, 5))).by).toBe("curve");
  });
  it("of the foot alone there is a lower bound and no upper end, with a curve or without", () => {
    const foot = column.slice(0, 4);
    expect(wholeBed(foot, fitted(foot))).toMatchObject({
      by: "foot",
      lowL: expect.closeTo(measuredVolume(foot), 3),
      highL: null,
    });
    const clean = compute("breakthrough-fit", { volume: [100, 200, 300], share: [0, 0, 0.003] });
    const silent = compute("breakthrough-fit", { volume: [100, 200, 300], share: [0, 0, 0] });
    expect(clean).toMatchObject({ values: { wholeLow: expect.closeTo(299.85, 2) } });
    expect(silent).toMatchObject({ values: { outcome: "not-rising", wholeLow: 300 } });
    expect(wholeAtLeast(column)).toBeNull();
  });
  it("a curve's own points give back its whole volume, wherever they begin and end", () => {
    const share = fc.double({ min: 0.2, max: 0.8, noNaN: true });
    fc.assert(
      fc.property(share, share, (begin, end) => {
        const all = Array.from({ length: 200 }, (_, place) => ({
          volumeL: 10 * place,
          share: 1 / (1 + Math.exp(0.02 * (1000 - 10 * place))),
        }));
        const part = all.slice(Math.round(100 * begin), Math.round(100 + 100 * end));
        const whole = wholeBed(part, fitted(part));
        return Math.abs(whole.volumeL / 1000 - 1) < 1e-3 && whole.lowL <= 1001 && (whole.highL ?? 0) >= 999;
      }),
    );
  });
  it("capacities are given for what is known of the bed, and for nothing else", () => {
    const given = { volume: hours, share: shares, load: 4, bed: 2, depth: 0.5 };
    const computed = compute("breakthrough-fit", given);
    if (!computed.ok) throw new Error(computed.message);
    const { whole, capacity, capacityPerLitre, usedShare, unused } = computed.values as Record<
      string,
      number
    >;
    expect(capacity).toBeCloseTo(((whole as number) * 4) / 1000, 12);
    expect(capacityPerLitre).toBeCloseTo((capacity as number) / 2, 12);
    expect(unused).toBeCloseTo(0.5 * (1 - (usedShare as number)), 12);
    expect(computed.values).not.toHaveProperty("capacityPerKg");
    expect(computed.values).not.toHaveProperty("held");
    const foot = { volume: hours.slice(0, 4), share: shares.slice(0, 4), load: 4, depth: 0.5 };
    const early = compute("breakthrough-fit", foot);
    expect(early).toMatchObject({ values: { wholeBy: "foot", capacityLow: expect.closeTo(0.016, 3) } });
    expect(early).not.toHaveProperty("values.capacity");
    expect(early).not.toHaveProperty("values.unused");
  });
  it("no volume is told before the start, and none that a point speaks against", () => {
    const late = { volume: [0, 100, 200, 300, 400], share: [0.3, 0.35, 0.45, 0.5, 0.6], depth: 1 };
    const before = compute("breakthrough-fit", late);
    expect(before).toMatchObject({ values: { asked: null, by: "before-start" } });
    expect(before).not.toHaveProperty("values.unused");
    const scatter = { volume: [0, 1000, 2000, 3000, 3100], share: [0, 0.02, 0.008, 0.03, 0.009] };
    expect(compute("breakthrough-fit", scatter)).toMatchObject({
      values: { asked: null, by: "contradicted", byCurve: expect.closeTo(1101, 0), sure: false },
    });
    expect(compute("breakthrough-fit", { volume: hours, share: shares })).toMatchObject({
      values: { by: "points", sure: true },
    });
    const points = fc.array(fc.double({ min: -0.01, max: 1.1, noNaN: true }), {
      minLength: 4,
      maxLength: 12,
    });
    fc.assert(
      fc.property(points, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (rises, share) => {
        const all = rises.map((one, place) => ({ volumeL: 100 * place, share: one }));
        const fit = fitBreakthrough(all);
        if (!fit.ok) return true;
        const { by, volumeL } = volumeAtShare(all, fit.curve, share);
        if (volumeL === null) return by === "before-start" || by === "contradicted";
        const last = all.at(-1) as BreakthroughPoint;
        return volumeL >= 0 && (last.share >= share || volumeL >= last.volumeL);
      }),
    );
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
