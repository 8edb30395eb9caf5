import {
  betaOf,
  betaResistance,
  betaTemperature,
  compute,
  dividerCounts,
  dividerReading,
  ntcResistance,
  ntcTemperature,
  platinumResistance,
  platinumTemperature,
  steinhartHartOf,
} from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

// Printed with a module of 10 kOhm at 25 °C.
const module10k = { a: 0.001129148, b: 0.000234125, c: 8.76741e-8 };
const tC = fc.double({ min: -55, max: 150, noNaN: true });

describe("thermistors", () => {
  it("resistance and temperature are one another's inverse", () => {
    fc.assert(
      fc.property(tC, (t) => Math.abs(ntcTemperature(ntcResistance(t, module10k), module10k) - t) < 1e-9),
    );
    const beta = { r0Ohm: 10_000, t0C: 25, betaK: 3950 };
    fc.assert(fc.property(tC, (t) => Math.abs(betaTemperature(betaResistance(t, beta), beta) - t) < 1e-9));
  });
  it("a warmer thermistor has the smaller resistance", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -55, max: 149, noNaN: true }),
        fc.double({ min: 0.001, max: 1, noNaN: true }),
        (t, step) => ntcResistance(t + step, module10k) < ntcResistance(t, module10k),
      ),
    );
  });
  it("coefficients come back from three points of their own curve, in any order", () => {
    const point = (t: number) => ({ tC: t, ohm: ntcResistance(t, module10k) });
    const found = steinhartHartOf([point(50), point(0), point(25)]);
    expect(found.a / module10k.a).toBeCloseTo(1, 9);
    expect(found.b / module10k.b).toBeCloseTo(1, 9);
    expect(found.c / module10k.c).toBeCloseTo(1, 8);
  });
  it("a B value comes back from two points of its own curve", () => {
    const beta = { r0Ohm: 10_000, t0C: 25, betaK: 3435 };
    const point = (t: number) => ({ tC: t, ohm: betaResistance(t, beta) });
    expect(betaOf(point(10), point(60))).toBeCloseTo(3435, 6);
  });
  it("what is no thermistor is refused with its range", () => {
    expect(() => ntcTemperature(0, module10k)).toThrow("resistance is 0 Ohm; it must be from 1 to 10000000");
    expect(() => ntcTemperature(1, module10k)).toThrow("temperature of the thermistor");
    expect(() => ntcResistance(200, module10k)).toThrow("from -55 to 150 Cel");
    expect(() => betaOf({ tC: 25, ohm: 10_000 }, { tC: 25, ohm: 9000 })).toThrow("step between");
    expect(() => betaOf({ tC: 25, ohm: 10_000 }, { tC: 50, ohm: 12_000 })).toThrow("B value");
    const rising = [
      { tC: 0, ohm: 1000 },
      { tC: 25, ohm: 2000 },
      { tC: 50, ohm: 3000 },
    ] as const;
    expect(() => steinhartHartOf(rising)).toThrow("the warmer has the smaller resistance");
  });
  it("a resistance beyond the three points of its coefficients is said to be beyond them", () => {
    const points = { temperatures: [0, 25, 50], resistances: [32_128, 9814, 3542] };
    const asked = (resistance: number) => compute("ntc-coefficients", { ...points, resistance });
    expect(asked(12_262)).toMatchObject({ values: { beyond: false } });
    expect(asked(50_000)).toMatchObject({ values: { beyond: true } });
    expect(asked(3000)).toMatchObject({ values: { beyond: true } });
  });
});

describe("platinum", () => {
  it("resistance and temperature are one another's inverse over the whole curve", () => {
    const whole = fc.double({ min: -200, max: 850, noNaN: true });
    fc.assert(
      fc.property(
        whole,
        fc.constantFrom(100, 1000),
        (t, r0) => Math.abs(platinumTemperature(platinumResistance(t, r0), r0) - t) < 1e-9,
      ),
    );
  });
  it("an open or a shorted lead is out of range, never a temperature", () => {
    expect(() => platinumTemperature(0, 1000)).toThrow("broken or shorted");
    expect(() => platinumTemperature(1e9, 1000)).toThrow("broken or shorted");
    expect(() => platinumTemperature(Number.NaN, 1000)).toThrow("resistance is no number");
  });
});

describe("divider", () => {
  const wirings = ["sensor-to-ground", "sensor-to-supply"] as const;
  it("resistance comes back from its counts, either way round", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 100, max: 1_000_000, noNaN: true }),
        fc.constantFrom(...wirings),
        (ohm, wiring) => {
          const read = dividerReading(dividerCounts(ohm, 4095, 10_000, wiring), 4095, 10_000, wiring);
          return read.ok && Math.abs(read.ohm / ohm - 1) < 1e-9;
        },
      ),
    );
  });
  it("the ends are faults by name, and which end is which goes with the wiring", () => {
    expect(dividerReading(0, 1023, 10_000, "sensor-to-ground")).toMatchObject({ code: "sensor-short" });
    expect(dividerReading(1023, 1023, 10_000, "sensor-to-ground")).toMatchObject({ code: "sensor-open" });
    expect(dividerReading(1, 1023, 10_000, "sensor-to-supply")).toMatchObject({ code: "sensor-open" });
    expect(dividerReading(1022, 1023, 10_000, "sensor-to-supply")).toMatchObject({ code: "sensor-short" });
    expect(() => dividerReading(1024, 1023, 10_000, "sensor-to-ground")).toThrow("from 0 to 1023");
  });
});
