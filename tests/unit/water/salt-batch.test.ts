import {
  blendFor,
  blendOf,
  litresToReach,
  mixtureOf,
  saltBatch,
  saltCorrection,
  seaDensityKgPerM3,
} from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const salinity = fc.double({ min: 1, max: 41, noNaN: true });
const volumeL = fc.double({ min: 1, max: 10_000, noNaN: true });
const tC = fc.double({ min: 5, max: 35, noNaN: true });
const near = (one: number, other: number) => Math.abs(one / other - 1) < 1e-9;

describe("a batch", () => {
  it("of 200 L at 35 takes some 7.2 kg of dry salt, and no less of a damp one", () => {
    const dry = saltBatch({ volumeL: 200, salinity: 35 }, 25);
    // 204.67 kg of water of 35.165 g/kg.
    expect(dry.saltKg).toBeCloseTo(7.197, 3);
    expect(dry.waterL).toBeCloseTo(198.06, 2);
    const damp = saltBatch({ volumeL: 200, salinity: 35 }, 25, 0.9);
    expect(damp.saltKg * 0.9).toBeCloseTo(dry.saltKg, 9);
    expect(damp.waterL).toBeLessThan(dry.waterL);
  });
  it("at 33.4 it takes salt, at 36.1 water: the amounts bring it to the target", () => {
    // A drum of 180 L at 25 °C, target 35.
    const low = saltCorrection({ volumeL: 180, salinity: 33.4 }, 35, 25);
    expect(low).toEqual({ add: "salt", saltKg: expect.closeTo(0.3065, 3) });
    const high = saltCorrection({ volumeL: 190, salinity: 36.1 }, 35, 25);
    expect(high).toMatchObject({ add: "water", waterL: expect.closeTo(6.13, 2) });
    expect(saltCorrection({ volumeL: 190, salinity: 35 }, 35, 25)).toEqual({ add: "nothing" });
  });
  it("salt of the correction and of the drum are the salt of the target", () => {
    fc.assert(
      fc.property(volumeL, salinity, salinity, tC, (litres, is, wanted, t) => {
        const correction = saltCorrection({ volumeL: litres, salinity: is }, wanted, t);
        const share = (s: number) => (s * 35.16504) / 35_000;
        const massKg = (litres * seaDensityKgPerM3(is, t)) / 1000;
        if (correction.add === "nothing") return is === wanted;
        if (correction.add === "salt") {
          const { saltKg } = correction;
          return Math.abs((massKg * share(is) + saltKg) / (massKg + saltKg) - share(wanted)) < 1e-12;
        }
        const freshKgPerL = seaDensityKgPerM3(0, t) / 1000;
        const after = massKg + correction.waterL * freshKgPerL;
        const left = massKg * (1 - correction.exchangeL / litres);
        const exchanged = (left * share(is)) / (left + correction.exchangeL * freshKgPerL);
        return near((massKg * share(is)) / after, share(wanted)) && near(exchanged, share(wanted));
      }),
    );
  });
  it("adding the computed water by pouring gives the target", () => {
    const correction = saltCorrection({ volumeL: 190, salinity: 36.1 }, 35, 20);
    if (correction.add !== "water") throw new Error("no water");
    const blend = blendOf(
      [
        { volumeL: 190, salinity: 36.1 },
        { volumeL: correction.waterL, salinity: 0 },
      ],
      20,
    );
    expect(blend.salinity).toBeCloseTo(35, 9);
    expect(blend.volumeL).toBeCloseTo(correction.volumeAfterL, 9);
  });
  it("what makes no sense is refused with its range", () => {
    expect(() => saltCorrection({ volumeL: 190, salinity: 36 }, 0, 20)).toThrow("from 0.1 to 42");
    expect(() => saltCorrection({ volumeL: 0, salinity: 36 }, 35, 20)).toThrow("from 0.001 to 1000000 L");
    expect(() => saltBatch({ volumeL: 10, salinity: 60 }, 20)).toThrow("salinity is 60");
    expect(() => saltBatch({ volumeL: 10, salinity: 35 }, 20, 0.1)).toThrow("from 0.5 to 1 kg/kg");
    expect(() => blendOf([], 20)).toThrow("number of waters");
  });
});

describe("blending", () => {
  it("litres for a wanted water, poured together, are that water", () => {
    fc.assert(
      fc.property(
        volumeL,
        salinity,
        fc.double({ min: 0, max: 1, noNaN: true }),
        tC,
        (litres, s, share, t) => {
          const wanted = { volumeL: litres, salinity: Math.max(s, 42 + share * (s - 42)) };
          const { firstL, secondL } = blendFor(wanted, [42, s], t);
          const parts = [
            { volumeL: firstL, salinity: 42 },
            { volumeL: secondL, salinity: s },
          ].filter((part) => part.volumeL >= 0.001);
          const blend = blendOf(parts, t);
          return Math.abs(blend.salinity - wanted.salinity) < 0.05 && Math.abs(blend.volumeL - litres) < 0.01;
        },
      ),
    );
  });
  it("a target beyond both waters is refused", () => {
    expect(() => blendFor({ volumeL: 100, salinity: 36 }, [35, 0], 20)).toThrow("from 0 to 35");
    expect(() => blendFor({ volumeL: 100, salinity: 35 }, [35, 35], 20)).toThrow("difference");
  });
  it("dilute waters: what is dissolved is kept, and the computed water reaches the target", () => {
    fc.assert(
      fc.property(volumeL, fc.double({ min: 10, max: 500, noNaN: true }), (litres, concentration) => {
        const drum = { volumeL: litres, concentration };
        const waterL = litresToReach(drum, 9, 3);
        const mixed = mixtureOf([drum, { volumeL: waterL, concentration: 3 }]);
        return near(mixed.concentration, 9);
      }),
    );
    expect(() => litresToReach({ volumeL: 100, concentration: 5 }, 1, 2)).toThrow("from 2 to 5");
    expect(() => litresToReach({ volumeL: 100, concentration: 5 }, 2, 2)).toThrow("water to add");
    expect(() => mixtureOf([{ volumeL: -1, concentration: 5 }])).toThrow("volume is -1 L");
  });
});
