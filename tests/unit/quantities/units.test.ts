import { convert, convertBasis, convertDifference, UnitError, units } from "@drumlin/gateway/quantities";
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
    const masses = 'The unit "stone" is not known; units of mass are g, kg, mg, [lb_av], [oz_av], [gr].';
    expect(() => convert(1, "stone", "g")).toThrow(masses);
    expect(() => convert(1, "g", "stone")).toThrow(masses);
    expect(() => convert(1, "stone", "furlong")).toThrow('The units "stone" and "furlong" are not known.');
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
  it("know no temperature under absolute zero, and no resistivity under 0", () => {
    // SI Brochure, 9th ed. (2019), 2.3.1: 0 K is -273.15 °C; -459.67 °F by the definition of the scale.
    expect(convert(-459.67, "F", "K")).toBeCloseTo(0, 9);
    expect(() => convert(-459.7, "F", "K")).toThrow(
      "temperature is -459.7 [degF]; it must be at least -459.67",
    );
    expect(() => convert(-300, "Cel", "F")).toThrow("must be at least -273.15 Cel. That is absolute zero.");
    expect(() => convert(-1, "uS/cm", "MOhm.cm")).toThrow("conductivity is -1 uS/cm; it must be at least 0");
    expect(convert(-1, "uS/cm", "mS/cm")).toBe(-0.001);
  });
  it("tell a difference of temperatures from a temperature", () => {
    expect(convertDifference(1.8, "F", "K")).toBeCloseTo(1, 12);
    expect(convertDifference(-2, "K", "Cel")).toBe(-2);
    expect(convertDifference(50, "uS/cm", "mS/cm")).toBeCloseTo(0.05, 12);
    expect(() => convertDifference(1, "MOhm.cm", "uS/cm")).toThrow(/difference in "MOhm.cm"/);
  });
  it("between bases return to where they began, and do not cross families", () => {
    expect(convertBasis(convertBasis(0.37, "N", "NO3"), "NO3", "N")).toBeCloseTo(0.37, 12);
    expect(() => convertBasis(1, "N", "CaCO3")).toThrow(/share nothing/);
    expect(() => convertBasis(1, "N", "gold" as "N")).toThrow(/"gold" is no basis/);
  });
});
