import {
  bedVolumesPerHour,
  type CapacityUnit,
  capacityUnits,
  compute,
  convertCapacity,
  equivalentsOf,
  learnedCapacity,
  litresToExhaustion,
  loadBehindMembrane,
  loadNames,
  loadOfConductivity,
  resinLoad,
} from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

// Stuyfzand, KIWA SWE 87-006 (1987), table 3.1: conductivity measured at 20 °C, here times 1.11556 (ISO 7888); the mean of
// its cations and anions.
const measuredWaters = [
  { kappa25: 74.7, meqPerL: 0.811 },
  { kappa25: 363.7, meqPerL: 3.718 },
  { kappa25: 236.5, meqPerL: 2.2 },
  { kappa25: 314.6, meqPerL: 3.17 },
  { kappa25: 542.2, meqPerL: 5.868 },
  { kappa25: 510.9, meqPerL: 5.108 },
  { kappa25: 563.4, meqPerL: 5.006 },
  { kappa25: 652.6, meqPerL: 6.643 },
  { kappa25: 819.9, meqPerL: 7.902 },
  { kappa25: 1139, meqPerL: 11.175 },
];

const unit = fc.constantFrom(...capacityUnits);

describe("capacity", () => {
  it("comes back from every unit", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 9.9, noNaN: true }), unit, unit, (eqPerL, one, other) => {
        const inOne = convertCapacity(eqPerL, "eq/L", one);
        const back = convertCapacity(convertCapacity(inOne, one, other), other, "eq/L");
        return Math.abs(back / eqPerL - 1) < 1e-12;
      }),
    );
  });
  it("10,000 gr/ft3 is 0.457 eq/L", () => {
    expect(convertCapacity(10, "k[gr]/[ft_i]3", "eq/L")).toBeCloseTo(0.45727, 5);
    expect(equivalentsOf(1000, "[gr]")).toBeCloseTo(1.29485, 5);
  });
  it("what no resin holds is refused with its range", () => {
    expect(() => convertCapacity(-1, "eq/L", "[gr]/L")).toThrow("from 0 to 10 eq/L");
    expect(() => convertCapacity(10_000, "k[gr]/[ft_i]3" satisfies CapacityUnit, "eq/L")).toThrow(
      "capacity is",
    );
    expect(() => equivalentsOf(-1, "[gr]")).toThrow("capacity of the bed");
  });
});

describe("load", () => {
  // 4 meq/L of calcium bicarbonate and chloride, with CO2 and silica.
  const feed = resinLoad({
    calcium: 80.156,
    bicarbonate: 2 * 61.0168,
    chloride: 2 * 35.453,
    carbonDioxide: 10,
    silica: 12,
  });
  it("counts CO2 and silica on the anion resin, one site each", () => {
    expect(feed.cations).toBeCloseTo(4, 9);
    expect(feed.anions).toBeCloseTo(4, 9);
    expect(feed.carbonDioxide).toBeCloseTo(0.2272, 4);
    expect(feed.silica).toBeCloseTo(0.1997, 4);
    expect(feed.governing).toBe(feed.anionResin);
  });
  it("behind a membrane of 95 % CO2 leaves a tenth of the life that conductivity promises", () => {
    const after = loadBehindMembrane(feed, 0.95);
    expect(after.anionResin).toBeCloseTo(0.437, 3);
    expect(feed.governing / after.governing).toBeCloseTo(10.13, 2);
    const ionsOnly = loadBehindMembrane(
      { ...feed, carbonDioxide: 0, silica: 0, anionResin: 4, governing: 4 },
      0.95,
    );
    expect(4 / ionsOnly.governing).toBeCloseTo(20, 9);
  });
  it("each thing dissolved adds to it, and none takes away", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...loadNames),
        fc.double({ min: 0.01, max: 1000, noNaN: true }),
        (name, mgPerL) => resinLoad({ [name]: mgPerL }).governing > 0,
      ),
    );
    expect(() => resinLoad({ silica: -1 })).toThrow("silica is -1 mg/L; it must be from 0 to 10000 mg/L");
    expect(() => loadBehindMembrane(feed, 1)).toThrow("from 0 to 0.9999");
  });
  it("of conductivity has an interval that every measured water lies in", () => {
    for (const { kappa25, meqPerL } of measuredWaters) {
      const { low, likely, high, measured } = loadOfConductivity(kappa25);
      expect([low <= meqPerL, meqPerL <= high, low < likely, likely < high, measured]).toEqual(
        Array(5).fill(true),
      );
    }
    const worst = Math.min(...measuredWaters.map((one) => one.kappa25 / 125 / one.meqPerL));
    expect(worst).toBeLessThan(0.75);
    expect(loadOfConductivity(5000).measured).toBe(false);
    expect(() => loadOfConductivity(-1)).toThrow("from 0 to 10000 uS/cm");
  });
  it("of conductivity tells what it doesn't see apart, and knows nothing of the anion resin without it", () => {
    expect(compute("resin-load-of-conductivity", { kappa25: 500, carbonDioxide: 10 })).toMatchObject({
      values: { load: 5, carbonDioxide: expect.closeTo(0.2272, 4), silica: null, anionResin: null },
    });
    const given = { kappa25: 500, carbonDioxide: 10, silica: 12 };
    expect(compute("resin-load-of-conductivity", given)).toMatchObject({
      values: {
        anionResin: expect.closeTo(5.4269, 4),
        anionResinLow: expect.closeTo(500 / 113 + 0.4269, 4),
        anionResinHigh: expect.closeTo(500 / 92 + 0.4269, 4),
      },
    });
  });
});

describe("throughput", () => {
  it("0.4573 eq/L at 4 meq/L is 114 L per litre of resin", () => {
    expect(litresToExhaustion(0.4573, 4)).toBeCloseTo(114.325, 3);
    expect(bedVolumesPerHour(2, 10)).toBe(12);
    expect(() => litresToExhaustion(1, 0)).toThrow("load is 0 meq/L");
    expect(() => bedVolumesPerHour(2, 0)).toThrow("bed is 0 L");
  });
});

describe("capacity learned from finished media", () => {
  it("media that agree are believed, and have no spread", () => {
    expect(learnedCapacity([0.4, 0.4, 0.4])).toEqual({
      eqPerL: expect.closeTo(0.4, 12),
      spreadEqPerL: expect.closeTo(0, 12),
      media: 3,
    });
    expect(learnedCapacity([0.4]).spreadEqPerL).toBeNull();
  });
  it("lies among the media, and nearer to the last ones", () => {
    const capacity = fc.double({ min: 0.1, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(capacity, { minLength: 1, maxLength: 20 }), (finished) => {
        const { eqPerL } = learnedCapacity(finished);
        return eqPerL >= Math.min(...finished) - 1e-12 && eqPerL <= Math.max(...finished) + 1e-12;
      }),
    );
    const drifted = learnedCapacity([0.5, 0.5, 0.5, 0.5, 0.5, 0.4, 0.4, 0.4, 0.4]);
    expect(drifted.eqPerL).toBeLessThan(0.425);
    expect(drifted.eqPerL).toBeGreaterThan(0.4);
    expect(() => learnedCapacity([])).toThrow("finished media is 0");
  });
});
