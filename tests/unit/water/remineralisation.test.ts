import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const valuesOf = (id: string, given: Readonly<Record<string, unknown>>) => {
  const computed = compute(id, given);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values as Readonly<Record<string, number>>;
};

describe("remineralisation", () => {
  it("gives salts that make the water that was wanted, and its conductivity", () => {
    const wanted = fc.double({ min: 1, max: 400, noNaN: true });
    fc.assert(
      fc.property(
        wanted,
        wanted,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (hardness, alkalinity, calciumShare) => {
          const salts = valuesOf("remineralisation", { hardness, alkalinity, calciumShare });
          const water = valuesOf("water-of-salts", {
            calciumChlorideDihydrate: salts.calciumSalt,
            magnesiumSulfateHeptahydrate: salts.magnesiumSalt,
            sodiumBicarbonate: salts.bicarbonateSalt,
          });
          expect(water.hardness).toBeCloseTo(hardness, 8);
          expect(water.alkalinity).toBeCloseTo(alkalinity, 8);
          expect(water.kappa25).toBeCloseTo(salts.kappa25 as number, 8);
        },
      ),
      { numRuns: 50 },
    );
  });
  it("takes degrees, counts what is there, and weighs for the volume", () => {
    const pure = valuesOf("remineralisation", { hardness: "6 dH", alkalinity: "4 dH", volume: "200 L" });
    expect(pure.bicarbonateSaltMass).toBeCloseTo((pure.bicarbonateSalt as number) / 5, 9);
    const half = valuesOf("remineralisation", {
      hardness: "6 dH",
      hardnessBefore: "3 dH",
      alkalinity: "4 dH",
      alkalinityBefore: "2 dH",
      kappa25Before: 200,
    });
    expect(half.calciumSalt).toBeCloseTo((pure.calciumSalt as number) / 2, 9);
    expect(half.kappa25).toBeGreaterThan(200);
  });
  it("does not take salts out: that is refused, with what to do", () => {
    const computed = compute("remineralisation", { hardness: 50, hardnessBefore: 80, alkalinity: 0 });
    expect(computed).toMatchObject({
      ok: false,
      code: "out-of-range",
      message: expect.stringContaining("dilute"),
    });
  });
});

describe("a water's own factor", () => {
  it("gives the solids back from the conductivity that it was taken with", () => {
    const water = {
      calcium: 60,
      magnesium: 10,
      sodium: 20,
      bicarbonate: 180,
      chloride: 35,
      sulfate: 40,
      kappa25: 480,
    };
    const own = valuesOf("water-own-factor", water);
    const solids = valuesOf("solids-by-factor", { kappa25: 480, factor: own.ofSum });
    expect(solids.solids).toBeCloseTo(own.sum as number, 9);
    expect(own.ofResidue).toBeLessThan(own.ofSum as number);
  });
  it("needs ions, and the factors per mg stop where they mislead", () => {
    expect(compute("water-own-factor", { kappa25: 400 })).toMatchObject({ code: "out-of-range" });
    expect(compute("conductivity-by-ion-factors", { sodium: 1000, chloride: 1540 })).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("conductivity-of-ions"),
    });
  });
});
