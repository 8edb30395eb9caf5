import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const valuesOf = (id: string, given: Readonly<Record<string, unknown>>) => {
  const computed = compute(id, given);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values as Readonly<Record<string, number>>;
};

describe("osmosis", () => {
  it("pulls more in saltier and in warmer water", () => {
    const solids = fc.double({ min: 1, max: 40_000, noNaN: true });
    fc.assert(
      fc.property(solids, fc.double({ min: 0, max: 40, noNaN: true }), (mgPerL, temperature) => {
        const of = (more: number, warmer: number) =>
          valuesOf("osmotic-pressure", { solids: mgPerL + more, temperature: temperature + warmer })
            .pressure as number;
        return of(10, 0) > of(0, 0) && of(0, 1) > of(0, 0);
      }),
    );
  });
  it("salt by its ions and salt by its weight pull alike, in dilute water to 5 %", () => {
    const bySalt = valuesOf("osmotic-pressure", { solids: 584.4, temperature: 25 }).pressure as number;
    const byIons = valuesOf("osmotic-pressure-of-ions", { sodium: 229.9, chloride: 354.5, temperature: 25 });
    expect(Math.abs((byIons.pressure as number) / bySalt - 1)).toBeLessThan(0.05);
  });
  it("a net driving pressure goes into membrane-flow as it is", () => {
    const given = { feed: 400, drop: 20, permeatePressure: 10, solids: 500, recovery: 0.2, temperature: 15 };
    const net = valuesOf("net-driving-pressure", given);
    const flow = valuesOf("membrane-flow", {
      permeate: 0.2,
      temperature: 15,
      feed: 400,
      drop: 20,
      permeatePressure: 10,
      osmoticFeed: net.osmoticFeed,
      osmoticPermeate: net.osmoticPermeate,
      standardFeed: 400,
    });
    expect(flow.netPressure).toBeCloseTo(net.netPressure as number, 9);
    expect(net.osmoticReject).toBeGreaterThan(net.osmoticFeed as number);
  });
  it("says when nothing drives water", () => {
    const computed = compute("net-driving-pressure", {
      feed: "2 bar",
      solids: 35_000,
      recovery: 0.1,
      temperature: 20,
    });
    expect(computed).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("Nothing drives"),
    });
  });
});

describe("dechlorinators", () => {
  it("thiosulfate asks for most when it ends as tetrathionate, and dry salt weighs less than crystals", () => {
    const perChlorine = (given: object) =>
      valuesOf("dechlorinator-dose", { volume: 1, chlorine: 1, ...given }).perChlorine as number;
    expect(perChlorine({ end: "sulfate" })).toBeCloseTo(perChlorine({}) / 8, 9);
    expect(perChlorine({ end: "sulfur" })).toBeCloseTo(perChlorine({}) / 2, 9);
    expect(perChlorine({ agent: "thiosulfate" })).toBeCloseTo((perChlorine({}) * 158.1077) / 248.1841, 5);
    expect(perChlorine({ agent: "sulfite", end: "sulfate" })).toBe(perChlorine({ agent: "sulfite" }));
  });
  it("says how much ammonia chloramine leaves, which no dose takes", () => {
    expect(valuesOf("dechlorinator-dose", { volume: 100, chlorine: 2 }).ammonia).toBeCloseTo(0.395, 3);
  });
  it("never takes less of a product than its label says for the volume", () => {
    const label = { labelAmount: 5, labelVolume: 200, labelChlorine: 2 };
    expect(valuesOf("dechlorinator-of-label", { volume: 200, chlorine: 0.2, ...label })).toEqual({
      amount: 5,
      timesLabel: 1,
    });
    expect(valuesOf("dechlorinator-of-label", { volume: 200, chlorine: 3, ...label }).amount).toBeCloseTo(
      7.5,
      9,
    );
  });
});
