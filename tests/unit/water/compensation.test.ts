import { natural25, naturalAt, practicalSalinity, pure25, pureAt } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("a published value", () => {
  it("PSS-78: 42.914 mS/cm at 15 °C (IPTS-68) is salinity 35", () => {
    expect(practicalSalinity(42_914, 15 / 1.00024)).toBeCloseTo(35, 4);
  });
});

describe("properties", () => {
  const kappa = fc.double({ min: 0.06, max: 100_000, noNaN: true });
  const warm = fc.double({ min: 0, max: 35.9, noNaN: true });
  it("natural and its inverse return to where they began", () => {
    fc.assert(
      fc.property(
        kappa,
        warm,
        (value, tC) => Math.abs(naturalAt(natural25(value, tC), tC) / value - 1) < 1e-9,
      ),
    );
  });
  it("pure and its inverse return to where they began, above pure water", () => {
    fc.assert(
      fc.property(kappa, warm, (value, tC) => Math.abs(pure25(pureAt(value, tC), tC) / value - 1) < 1e-9),
    );
  });
  it("pure grows with conductivity and is never below pure water", () => {
    fc.assert(
      fc.property(
        kappa,
        warm,
        fc.double({ min: 1.001, max: 10, noNaN: true }),
        (value, tC, times) => pure25(value * times, tC) >= pure25(value, tC) && pure25(0, tC) > 0.0549,
      ),
    );
  });
  it("colder water has the greater reference conductivity", () => {
    fc.assert(
      fc.property(
        kappa,
        fc.double({ min: 0, max: 24, noNaN: true }),
        (value, tC) => natural25(value, tC) > value && natural25(value, tC) > natural25(value, tC + 1),
      ),
    );
  });
});
