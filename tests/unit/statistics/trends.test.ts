import {
  holtForecast,
  holtLinear,
  mannKendall,
  median,
  normalQuantile,
  normalShare,
  pettitt,
  quantile,
  robustSpread,
  straightLine,
  theilSen,
} from "@drumlin/gateway/statistics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
const list = fc.array(number, { minLength: 3, maxLength: 40 });
const slope = fc.double({ min: -100, max: 100, noNaN: true });
const steps = (count: number) => Array.from({ length: count }, (_, place) => place);

describe("a straight line", () => {
  it.each([[[0, 2e100, 2e100]], [[0, -2e100, -2e100]]])(
    "with one pair steeper than 1e100 is refused, though the others are flat: %s",
    (y) => {
      expect(() => theilSen([0, 1, 2], y)).toThrow(/steepest slope/);
    },
  );

  it("comes back from Theil–Sen, least squares and Holt", () => {
    fc.assert(
      fc.property(slope, slope, fc.integer({ min: 3, max: 30 }), (rise, start, count) => {
        const x = steps(count);
        const y = x.map((at) => start + rise * at);
        expect(theilSen(x, y).slope).toBeCloseTo(rise, 9);
        expect(theilSen(x, y).intercept).toBeCloseTo(start, 7);
        expect(straightLine(x, y).slope).toBeCloseTo(rise, 8);
        // Holt runs over its first value too, so a line that began one step early is followed exactly.
        expect(holtForecast(holtLinear(y, 1, 1), 2)).toBeCloseTo(start + rise * (count + 1), 6);
      }),
    );
  });
  it("is not turned by a stray where least squares is", () => {
    const y = [0, 1, 2, 3, 4, 5, 6, 7, 8, 1000];
    expect(theilSen(steps(10), y).slope).toBe(1);
    expect(straightLine(steps(10), y).slope).toBeGreaterThan(50);
  });
  it("has its slope within the interval", () => {
    fc.assert(
      fc.property(list, (y) => {
        const fit = theilSen(steps(y.length), y);
        expect(fit.slopeLow ?? Number.NEGATIVE_INFINITY).toBeLessThanOrEqual(fit.slope);
        expect(fit.slopeHigh ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(fit.slope);
      }),
    );
  });
  it("of so few points that even their extremes say too little has no interval, and no share of nothing", () => {
    // Four values rise in 1 of 24 orders: 8 % on both sides, so no interval of 95 % exists (Kendall 1975, table 1).
    expect(theilSen(steps(4), [1, 2, 3, 5])).toMatchObject({ slopeLow: null, slopeHigh: null });
    expect(theilSen(steps(2), [1, 2])).toMatchObject({ slope: 1, slopeLow: null });
    expect(theilSen(steps(10), steps(10)).slopeLow).toBe(1);
    expect(straightLine([1, 2, 3], [5, 5, 5]).rSquared).toBeNull();
    expect(straightLine([1, 2, 3], [5, 6, 7]).rSquared).toBe(1);
  });
  it("is refused where every x is the same, or one is missing", () => {
    expect(() => theilSen([1, 1, 1], [1, 2, 3])).toThrow(/number of pairs with different x is 0/);
    expect(() => straightLine([1, 1, 1], [1, 2, 3])).toThrow(/Every x is the same/);
    expect(() => theilSen([1, 2, 3], [1, 2])).toThrow(/Each x needs its y/);
  });
});

describe("Mann–Kendall and Pettitt", () => {
  it("turn with the series", () => {
    fc.assert(
      fc.property(list, (values) => {
        const forth = mannKendall(values);
        const back = mannKendall(values.toReversed());
        expect(back.score + forth.score).toBe(0);
        expect(back.p).toBe(forth.p);
        expect(forth.p).toBeGreaterThanOrEqual(0);
        expect(forth.p).toBeLessThanOrEqual(1);
        expect(pettitt(values).statistic).toBe(pettitt(values.toReversed()).statistic);
      }),
    );
  });
  it("do not ask how far values lie apart, only which is greater", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 40 }), (values) => {
        const cubes = values.map((value) => value ** 3);
        expect(mannKendall(cubes)).toEqual(mannKendall(values));
        expect(pettitt(cubes)).toEqual(pettitt(values));
      }),
    );
  });
  it("find nothing in equal values", () => {
    expect(mannKendall([2, 2, 2, 2])).toMatchObject({ z: 0, p: 1 });
    expect(pettitt([2, 2, 2, 2])).toMatchObject({ statistic: 0, p: 1, direction: null });
  });
  it("tell a step, its place and its direction", () => {
    const values = [...Array(12).fill(1), ...Array(9).fill(3)];
    expect(pettitt(values)).toMatchObject({ shiftAfter: 12, direction: "up" });
  });
  it("refuse too few values", () => {
    expect(() => mannKendall([1, 2])).toThrow(/number of values is 2; it must be from 3/);
  });
});

describe("spread", () => {
  it("moves and grows with the values", () => {
    fc.assert(
      fc.property(list, slope, (values, by) => {
        const plain = robustSpread(values);
        const moved = robustSpread(values.map((value) => value * 2 + by));
        expect(moved.median).toBeCloseTo(plain.median * 2 + by, 6);
        expect(moved.medianDeviation).toBeCloseTo(plain.medianDeviation * 2, 6);
        expect(quantile(values, 0) === Math.min(...values)).toBe(true);
        expect(quantile(values, 1) === Math.max(...values)).toBe(true);
      }),
    );
  });
  it("refuses an empty list", () => {
    expect(() => median([])).toThrow("number of values is 0; it must be at least 1.");
  });
  it("the normal quantile undoes the normal share", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-9, max: 0.999999, noNaN: true }),
        (share) => Math.abs(normalShare(normalQuantile(share)) - share) < 1e-12,
      ),
    );
  });
});
