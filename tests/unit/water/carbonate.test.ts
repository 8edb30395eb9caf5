import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

function value(id: string, inputs: Record<string, unknown>, output: string): number {
  const computed = compute(id, inputs);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values[output] as number;
}

describe("hardness", () => {
  it("and alkalinity part into carbonate and non-carbonate hardness", () => {
    expect(compute("hardness-parts", { hardness: 200, alkalinity: 150 })).toMatchObject({
      values: { carbonate: 150, nonCarbonate: 50, beyond: 0 },
    });
    expect(compute("hardness-parts", { hardness: 20, alkalinity: 150 })).toMatchObject({
      values: { carbonate: 20, nonCarbonate: 0, beyond: 130 },
    });
  });
  it("is taken in German degrees", () => {
    expect(value("hardness-units", { hardness: "10 dH" }, "dH")).toBeCloseTo(10, 9);
    expect(value("hardness-units", { hardness: "1 meq/L" }, "mmol")).toBeCloseTo(0.5, 9);
  });
  it("alkalinity and bicarbonate return to where they began", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1000, noNaN: true }), (alkalinity) => {
        const bicarbonate = value("bicarbonate-of-alkalinity", { alkalinity }, "bicarbonate");
        return (
          Math.abs(value("alkalinity-of-bicarbonate", { bicarbonate }, "alkalinity") / alkalinity - 1) < 1e-9
        );
      }),
    );
  });
});

describe("carbonate from pH and alkalinity", () => {
  const inputs = (pH: number, alkalinity: number) => ({ pH, alkalinity, temperature: 15, kappa25: 400 });
  it("adds up to the alkalinity it came from", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 6, max: 9, noNaN: true }),
        fc.double({ min: 10, max: 500, noNaN: true }),
        (pH, alkalinity) => {
          const bicarbonate = value("carbon-dioxide-of-ph", inputs(pH, alkalinity), "bicarbonate") / 61.01684;
          const carbonate = value("carbon-dioxide-of-ph", inputs(pH, alkalinity), "carbonate") / 60.0089;
          // What is left is hydroxide, less than 0.02 mmol/L at pH 9.
          return Math.abs(bicarbonate + 2 * carbonate - alkalinity / 50.04345) < 0.02;
        },
      ),
    );
  });
  it("has a tenth of the CO2 one pH higher, and more of it when there is more alkalinity", () => {
    const carbonDioxide = (pH: number, alkalinity: number) =>
      value("carbon-dioxide-of-ph", inputs(pH, alkalinity), "carbonDioxide");
    expect(carbonDioxide(6, 100) / carbonDioxide(7, 100)).toBeCloseTo(10, 1);
    expect(carbonDioxide(7, 200)).toBeGreaterThan(1.9 * carbonDioxide(7, 100));
  });
  it("refuses a pH that so little alkalinity can't hold", () => {
    expect(compute("carbon-dioxide-of-ph", { pH: 10.5, alkalinity: 5 })).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("hydroxide alone"),
    });
  });
  it("and the gas it stands against agree: that gas over pure water gives back the CO2", () => {
    const gas = value("carbon-dioxide-of-ph", { pH: 7, alkalinity: 20, temperature: 20 }, "gas");
    const dissolved = value("air-water", { temperature: 20, carbonDioxide: gas }, "dissolved");
    const free = value("carbon-dioxide-of-ph", { pH: 7, alkalinity: 20, temperature: 20 }, "carbonDioxide");
    expect(dissolved / free).toBeCloseTo(1, 2);
  });
});

describe("pure water and air", () => {
  it("without CO2 it is pure water", () => {
    for (const temperature of [0, 10, 25, 50])
      expect(value("air-water", { temperature, carbonDioxide: 0 }, "kappa")).toBeCloseTo(
        value("pure-water", { temperature }, "kappa"),
        9,
      );
  });
  it("conducts more the more CO2 there is, and some 1 uS/cm outdoors", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 1, max: 50_000, noNaN: true }),
        (temperature, carbonDioxide) =>
          value("air-water", { temperature, carbonDioxide: 1.1 * carbonDioxide }, "kappa") >
          value("air-water", { temperature, carbonDioxide }, "kappa"),
      ),
    );
    const outdoors = value("air-water", { temperature: 25 }, "kappa");
    expect(outdoors).toBeGreaterThan(0.9);
    expect(outdoors).toBeLessThan(1.1);
  });
  it("alkalinity in mmol/L is refused, for acid capacity counts it twice as CaCO3 does", () => {
    const given = { hardness: "1.5 mmol/L", alkalinity: "2.5 mmol/L" };
    expect(compute("hardness-parts", given)).toMatchObject({
      code: "unit-mismatch",
      message: expect.stringContaining('write "2.5 meq/L" for acid capacity'),
    });
    expect(compute("hardness-parts", { ...given, alkalinity: "2.5 meq/L" })).toMatchObject({
      values: { carbonate: expect.closeTo(125.1086, 3) },
    });
  });
});
