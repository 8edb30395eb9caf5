import { logisticAt, logisticFit, studentT } from "@drumlin/gateway/statistics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const points = (xs: readonly number[], ys: readonly number[]) =>
  xs.map((x, place) => ({ x, y: ys[place] as number }));

describe("logistic least squares", () => {
  it("NIST StRD Rat42: certified values to eight digits", () => {
    // https://www.itl.nist.gov/div898/strd/nls/data/ratkowsky2.shtml
    const fit = logisticFit(
      points(
        [9, 14, 21, 28, 42, 57, 63, 70, 79],
        [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
      ),
    );
    if (!fit.ok) throw new Error(fit.message);
    const { curve } = fit;
    const digits = (got: number, certified: number) =>
      expect(Math.abs(got / certified - 1)).toBeLessThan(1e-8);
    digits(curve.top, 72.462237576);
    digits(curve.offset, 2.6180768402);
    digits(curve.rate, 0.067359200066);
    digits(curve.standardErrors.top, 1.7340283401);
    digits(curve.standardErrors.offset, 0.088295217536);
    digits(curve.standardErrors.rate, 0.0034465663377);
    digits(curve.residualSumOfSquares, 8.0565229338);
    digits(curve.residualSd, 1.1587725499);
    expect(curve.degreesOfFreedom).toBe(6);
  });
  it("a curve's own points give it back", () => {
    const xs = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
    fc.assert(
      fc.property(
        fc.double({ min: 0.6, max: 8, noNaN: true }),
        fc.double({ min: 2, max: 8, noNaN: true }),
        fc.double({ min: 0.01, max: 1e4, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
        (rate, middle, top, stretch) => {
          const y = (x: number) => top / (1 + Math.exp(-rate * (x - middle)));
          const fit = logisticFit(xs.map((x) => ({ x: x * stretch, y: y(x) })));
          if (!fit.ok) return false;
          const { curve } = fit;
          return (
            Math.abs(curve.middle / middle / stretch - 1) < 1e-6 &&
            Math.abs((curve.rate * stretch) / rate - 1) < 1e-5 &&
            Math.abs(curve.top / top - 1) < 1e-6 &&
            Math.abs(logisticAt(curve, curve.middle) / curve.top - 0.5) < 1e-12
          );
        },
      ),
    );
  });
  it("whatever finite points it is given, it gives finite numbers or a reason", () => {
    const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    const some = fc.array(fc.record({ x: number, y: number }), { maxLength: 12 });
    fc.assert(
      fc.property(
        some,
        fc.option(fc.double({ min: 1e-3, max: 1e3, noNaN: true }), { nil: undefined }),
        (list, top) => {
          const fit = logisticFit(list, top);
          if (!fit.ok) return fit.message.length > 10;
          const { standardErrors, ...rest } = fit.curve;
          return [...Object.values(rest), ...Object.values(standardErrors)].every(Number.isFinite);
        },
      ),
      { numRuns: 300 },
    );
  });
  it("what can't be fitted is refused by name", () => {
    const flat = [0, 1, 2, 3].map((x) => ({ x, y: 0.5 }));
    expect(logisticFit(flat, 1)).toMatchObject({ code: "not-rising" });
    expect(logisticFit([])).toMatchObject({ code: "too-few-points" });
    expect(logisticFit(points([1, 2, 3], [0, 0.5, 1]))).toMatchObject({ code: "too-few-points" });
    expect(logisticFit(points([1, 1, 1, 1], [0, 0.5, 1, 1]), 1)).toMatchObject({ code: "too-few-points" });
    expect(logisticFit(points([1, 2, 3, 4], [0, Number.NaN, 1, 1]), 1)).toMatchObject({ code: "not-finite" });
    expect(logisticFit(points([1, 2, 3, 4], [0, 0, 0, 0]), 1)).toMatchObject({ code: "not-rising" });
    expect(logisticFit(points([1, 2, 3, 4, 5], [1, 0.9, 0.5, 0.1, 0]), 1)).toMatchObject({ ok: false });
    const foot = points([1, 2, 3, 4, 5, 6], [0.001, 0.002, 0.004, 0.008, 0.016, 0.032]);
    expect(logisticFit(foot)).toMatchObject({ code: "no-convergence" });
  });
});

describe("Student's t", () => {
  it("at one degree of freedom is the tangent, at many the normal distribution", () => {
    expect(studentT(0.5, 1)).toBeCloseTo(1, 12);
    expect(studentT(0.95, 10_000)).toBeCloseTo(1.96, 2);
  });
  it("narrows with freedom, widens with confidence", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.double({ min: 0.1, max: 0.98, noNaN: true }),
        (freedom, confidence) =>
          studentT(confidence, freedom) > studentT(confidence, freedom + 1) &&
          studentT(confidence + 0.01, freedom) > studentT(confidence, freedom),
      ),
    );
    expect(() => studentT(1, 5)).toThrow("from 0.01 to 0.999");
    expect(() => studentT(0.95, 2.5)).toThrow("whole");
  });
});
