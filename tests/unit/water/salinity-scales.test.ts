import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const valuesOf = (id: string, given: Readonly<Record<string, unknown>>) => {
  const computed = compute(id, given);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values as Readonly<Record<string, number>>;
};
const salinity = fc.double({ min: 0.01, max: 41.99, noNaN: true });

describe("scales of salinity and back", () => {
  it("return to where they began", () => {
    fc.assert(
      fc.property(salinity, fc.double({ min: 0, max: 30, noNaN: true }), (began, temperature) => {
        const { index } = valuesOf("refractive-index-of-sea-water", { salinity: began, temperature });
        expect(valuesOf("salinity-of-refractive-index", { index, temperature }).salinity).toBeCloseTo(
          began,
          8,
        );
        const { salt } = valuesOf("grams-per-litre-of-salinity", { salinity: began, temperature });
        expect(valuesOf("salinity-of-grams-per-litre", { salt, temperature }).salinity).toBeCloseTo(began, 8);
        const made = { glass: 15.56, reference: 4, temperature };
        const { reading } = valuesOf("hydrometer-reading", { salinity: began, ...made });
        expect(valuesOf("salinity-of-hydrometer", { reading, ...made }).salinity).toBeCloseTo(began, 8);
      }),
      { numRuns: 100 },
    );
  });
  it("a hydrometer at its own temperature reads specific gravity; warm water reads low, its glass makes good a little", () => {
    const { gravity } = valuesOf("specific-gravity", { salinity: 35, temperature: 25, reference: 25 });
    expect(valuesOf("hydrometer-reading", { salinity: 35, temperature: 25, glass: 25 }).reading).toBe(
      gravity,
    );
    const glass = valuesOf("hydrometer-reading", { salinity: 35, temperature: 30, glass: 25 })
      .reading as number;
    const rigid = valuesOf("hydrometer-reading", { salinity: 35, temperature: 30, glass: 25, expansion: 0 })
      .reading as number;
    expect(glass).toBeLessThan(gravity as number);
    expect(glass - rigid).toBeCloseTo(0.000125 * rigid, 6);
  });
  it("g/L is not ppt, and degrees Brix go by the index", () => {
    const { salinity: of, byMass } = valuesOf("salinity-of-grams-per-litre", { salt: 35, temperature: 25 });
    expect(of).toBeCloseTo(34.06, 2);
    expect(byMass).toBeCloseTo(34.23, 2);
    const { index, salinity: sweet } = valuesOf("salinity-of-brix", { brix: 3.5 });
    expect(valuesOf("salinity-of-refractive-index", { index, temperature: 20 }).salinity).toBe(sweet);
    expect(valuesOf("salinity-of-brix", { brix: 0 }).salinity).toBe(0);
  });
  it("want the temperatures that stand on the instrument: none is guessed", () => {
    expect(compute("salinity-of-hydrometer", { reading: 1.024, temperature: 25 })).toMatchObject({
      code: "input-not-understood",
      message: expect.stringContaining("glass"),
    });
    expect(compute("salinity-of-refractive-index", { index: 1.3394 })).toMatchObject({
      code: "input-not-understood",
      message: expect.stringContaining("temperature"),
    });
  });
  it("refuse an index of nothing, a hydrometer in lighter water than pure, and more salt than the scale has", () => {
    expect(compute("salinity-of-refractive-index", { index: 1.325, temperature: 20 })).toMatchObject({
      code: "out-of-range",
    });
    expect(compute("salinity-of-hydrometer", { reading: 0.99, temperature: 20, glass: 20 })).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("reading"),
    });
    expect(compute("salinity-of-grams-per-litre", { salt: 48, temperature: 20 })).toMatchObject({
      code: "out-of-range",
    });
  });
});

describe("ammonia the other way round, in salt water and above 30 °C", () => {
  it("total and un-ionised are each other's inverse", () => {
    const sea = { pH: 8.1, temperature: 27, salinity: "35 ppt" };
    const { nitrogen } = valuesOf("ammonia-unionised-sea", { ...sea, total: 0.7 });
    expect(valuesOf("ammonia-total-of-unionised-sea", { ...sea, unionised: nitrogen }).total).toBeCloseTo(
      0.7,
      12,
    );
  });
  it("above 30 °C the answer says that tables end there", () => {
    for (const id of ["ammonia-unionised-fresh", "ammonia-unionised-sea"]) {
      const given = { pH: 8, ...(id.endsWith("sea") ? { salinity: 35 } : {}) };
      expect(valuesOf(id, { ...given, temperature: 30 })).toMatchObject({ aboveTables: false });
      expect(valuesOf(id, { ...given, temperature: 34 })).toMatchObject({ aboveTables: true });
    }
    expect(compute("ammonia-unionised-fresh", { pH: 8, temperature: 41 })).toMatchObject({
      code: "out-of-range",
    });
  });
});
