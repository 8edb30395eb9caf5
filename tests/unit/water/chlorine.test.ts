import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const totalSteps = [0, 0.5, 1, 3, 5];
const freeSteps = [0, 0.5, 1, 3, 5];
const combined = (total: number, free: number, limit = 0.1) =>
  compute("chlorine-combined", { total, free, totalSteps, freeSteps, limit });

describe("combined chlorine from two strips", () => {
  it("is as wide as the strips' steps leave it", () => {
    expect(combined(1, 0)).toMatchObject({
      values: { code: "ok", low: 0.5, high: 2, difference: 1, against: "above" },
    });
  });
  it("can't tell 0.1 mg/L with steps of 0.5", () => {
    expect(combined(0, 0)).toMatchObject({ values: { low: 0, high: 0.25, against: "can't-tell" } });
    expect(combined(0, 0, 0.3)).toMatchObject({ values: { against: "within" } });
  });
  it("has no high end at the last colour, and no low end where free has none", () => {
    expect(combined(5, 0)).toMatchObject({ values: { low: 3.75, high: null, against: "above" } });
    expect(combined(5, 5)).toMatchObject({ values: { low: 0, high: null, against: "can't-tell" } });
  });
  it("takes a reading between two colours as all between them", () => {
    expect(combined(2, 0)).toMatchObject({ values: { low: 0.75, high: 3 } });
  });
  it("says when free is above total, also where the two intervals only touch", () => {
    expect(combined(0.5, 1)).toMatchObject({ values: { code: "free-above-total", against: null } });
    expect(combined(0, 0.5)).toMatchObject({ values: { code: "free-above-total", against: null } });
    expect(combined(0.5, 3)).toMatchObject({ values: { code: "free-above-total", low: null } });
  });
  it("can't tell where free was read above total on strips of unlike steps", () => {
    const given = { total: 0.5, free: 0.6, totalSteps, freeSteps: [0, 0.2, 0.6, 1], limit: 1 };
    expect(compute("chlorine-combined", given)).toMatchObject({
      values: { code: "ok", low: 0, high: expect.closeTo(0.35, 12), against: "can't-tell" },
    });
  });
  it("is judged by what aquatic life bears where no limit is given", () => {
    const fine = [0, 0.02, 0.05, 0.1];
    const given = { total: 0.05, free: 0, totalSteps: fine, freeSteps: fine };
    expect(compute("chlorine-combined", given)).toMatchObject({ values: { against: "above" } });
  });
  it("refuses steps that don't rise and a reading that is not on the strip", () => {
    expect(
      compute("chlorine-combined", { total: 1, free: 0, totalSteps: [0, 2, 1], freeSteps }),
    ).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("more than the one before"),
    });
    expect(combined(6, 0)).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("0 to 5"),
    });
  });
  it("always holds the true difference of what the strips could have seen", () => {
    const real = fc.double({ min: 0, max: 3.9, noNaN: true });
    const nearest = (value: number) =>
      totalSteps.reduce((best, step) => (Math.abs(step - value) < Math.abs(best - value) ? step : best));
    fc.assert(
      fc.property(real, fc.double({ min: 0, max: 1, noNaN: true }), (total, share) => {
        const free = total * share;
        const found = combined(nearest(total), nearest(free));
        if (!found.ok || found.values.code !== "ok") return false;
        const { low, high } = found.values as { low: number; high: number | null };
        return low <= total - free + 1e-12 && (high === null || total - free <= high + 1e-12);
      }),
    );
  });
});
