import { compute, formulas } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("a formula by its name", () => {
  it("takes numbers, commas, and units that it turns into its own", () => {
    const plain = compute("natural-25", { kappa: 300, temperature: 10 });
    expect(plain).toMatchObject({ ok: true, units: { kappa25: "uS/cm" } });
    expect(compute("natural-25", { kappa: "0,3 mS/cm", temperature: "50 F" })).toEqual(plain);
  });
  it("says which input is out of range, and the range", () => {
    expect(compute("natural-25", { kappa: -1, temperature: 10 })).toMatchObject({
      ok: false,
      code: "out-of-range",
      message: "kappa is -1 uS/cm; it must be from 0 to 1000000 uS/cm.",
    });
    const warm = compute("natural-25", { kappa: 300, temperature: 80 });
    expect(warm).toMatchObject({ ok: false, message: expect.stringContaining("from 0 to 35.9 Cel") });
  });
  it("refuses a unit of another kind, a missing input and one that is not its own", () => {
    expect(compute("natural-25", { kappa: "3 L", temperature: 10 })).toMatchObject({ code: "unit-mismatch" });
    expect(compute("natural-25", { kappa: 300 })).toMatchObject({ code: "input-not-understood" });
    expect(compute("natural-25", { kappa: 300, temperature: 10, colour: 3 })).toMatchObject({
      code: "input-not-understood",
    });
    expect(compute("nothing", {})).toMatchObject({ code: "formula-unknown" });
  });
  it("never throws, and never gives NaN, whatever numbers it is given", () => {
    const number = fc.oneof(
      fc.double({ min: -1e3, max: 1e5, noNaN: true }),
      fc.constantFrom(0, 1, 7, 25, -0, 1e300),
    );
    for (const formula of formulas) {
      const names = Object.keys(formula.inputs.shape);
      fc.assert(
        fc.property(fc.array(number, { minLength: names.length, maxLength: names.length }), (numbers) => {
          const computed = compute(
            formula.id,
            Object.fromEntries(names.map((name, place) => [name, numbers[place]])),
          );
          if (!computed.ok) return computed.message.length > 10;
          return Object.values(computed.values).every(
            (value) => typeof value !== "number" || Number.isFinite(value),
          );
        }),
        { numRuns: 200 },
      );
    }
  });
});
