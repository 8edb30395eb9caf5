import { convert, convertBasis, UnitError, units } from "@drumlin/gateway/quantities";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("conversions", () => {
  it("return to where they began, by every pair of units of a dimension", () => {
    const value = fc.double({ min: 0.001, max: 1e6, noNaN: true });
    for (const one of units) {
      for (const other of units.filter(({ dimension }) => dimension === one.dimension)) {
        fc.assert(
          fc.property(value, (given) => {
            const back = convert(convert(given, one.code, other.code), other.code, one.code);
            return Math.abs(back - given) <= 1e-9 * Math.max(given, 500);
          }),
          { numRuns: 20 },
        );
      }
    }
  });
  it("name both kinds where units do not fit", () => {
    expect(() => convert(1, "uS/cm", "L")).toThrow(/unit of conductivity.*of volume/);
    expect(() => convert(1, "stone", "g")).toThrow(/"stone" is not known/);
    expect(() => convert(1, "g", "stone")).toThrow(/"stone" is not known/);
    const codes = [
      ["uS/cm", "L"],
      ["stone", "g"],
    ].map(([from = "", to = ""]) => {
      try {
        return convert(1, from, to);
      } catch (error) {
        return error instanceof UnitError ? error.code : error;
      }
    });
    expect(codes).toEqual(["unit-mismatch", "unknown-unit"]);
  });
  it("between bases return to where they began, and do not cross families", () => {
    expect(convertBasis(convertBasis(0.37, "N", "NO3"), "NO3", "N")).toBeCloseTo(0.37, 12);
    expect(() => convertBasis(1, "N", "CaCO3")).toThrow(/share nothing/);
    expect(() => convertBasis(1, "N", "gold" as "N")).toThrow(/"gold" is no basis/);
  });
});
