import { compute, linearAt, naturalAt, pureAt } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

function value(id: string, inputs: Record<string, unknown>, output: string): number {
  const computed = compute(id, inputs);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values[output] as number;
}

describe("conductivity standards", () => {
  it("are their own name at 25 °C and grow with temperature", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 120_000, noNaN: true }),
        fc.double({ min: 0, max: 49, noNaN: true }),
        (standard, temperature) =>
          Math.abs(value("conductivity-standard", { standard, temperature: 25 }, "kappa") / standard - 1) <
            1e-12 &&
          value("conductivity-standard", { standard, temperature: temperature + 1 }, "kappa") >
            value("conductivity-standard", { standard, temperature }, "kappa"),
      ),
    );
  });
  it("say which molality and which temperature is not known", () => {
    expect(compute("primary-conductivity-standard", { molality: 0.5, temperature: 25 })).toMatchObject({
      ok: false,
      message: expect.stringContaining("molality"),
    });
    expect(compute("conductivity-standard", { standard: 1413, temperature: 60 })).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("from 0 to 50"),
    });
  });
});

describe("calibration of a conductivity probe", () => {
  const at = { standard: 1413, temperature: 25 };
  it("by one standard gives a cell constant, at the standard's temperature", () => {
    const warm = value("conductivity-standard", { standard: 1413, temperature: 20 }, "kappa");
    expect(
      compute("conductivity-calibration", { standard: 1413, temperature: 20, read: warm, cellConstant: 0.1 }),
    ).toMatchObject({ values: { code: "ok", slope: 1, offset: null, cellConstant: 0.1 } });
    expect(value("conductivity-calibration", { ...at, read: 1300 }, "slope")).toBeCloseTo(1413 / 1300, 12);
  });
  it("by two finds the slope and offset that the probe was made with", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.85, max: 1.15, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (slope, offset) => {
          const found = compute("conductivity-calibration", {
            ...at,
            read: (1413 - offset) / slope,
            secondStandard: 84,
            secondRead: (84 - offset) / slope,
          });
          if (!found.ok) return false;
          const {
            slope: gotSlope,
            offset: gotOffset,
            code,
          } = found.values as Record<string, number | string>;
          return (
            code === "ok" &&
            Math.abs(Number(gotSlope) - slope) < 1e-9 &&
            Math.abs(Number(gotOffset) - offset) < 1e-9
          );
        },
      ),
    );
  });
  it("is not believed outside its limits, and says why", () => {
    expect(compute("conductivity-calibration", { ...at, read: 1000 })).toMatchObject({
      values: { code: "slope-outside-limits" },
    });
    expect(
      compute("conductivity-calibration", { ...at, read: 1393, secondStandard: 84, secondRead: 64 }),
    ).toMatchObject({ values: { code: "offset-outside-limits", offset: expect.closeTo(20, 9) } });
  });
  it("has nothing to say of a dead probe, two readings at one place, or half a second point", () => {
    expect(compute("conductivity-calibration", { ...at, read: 0 })).toMatchObject({
      values: { code: "readings-tell-nothing", slope: null },
    });
    expect(
      compute("conductivity-calibration", { ...at, read: 500, secondStandard: 84, secondRead: 500 }),
    ).toMatchObject({ values: { code: "readings-tell-nothing" } });
    expect(compute("conductivity-calibration", { ...at, read: 500, secondStandard: 84 })).toMatchObject({
      values: { code: "second-incomplete" },
    });
    expect(compute("conductivity-calibration", { ...at, read: 500, secondRead: 84 })).toMatchObject({
      values: { code: "second-incomplete" },
    });
  });
});

describe("an error of the thermometer", () => {
  it.each(["linear", "natural", "pure"])("widens %s, and none leaves the value alone", (compensation) => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 2000, noNaN: true }),
        fc.double({ min: 5, max: 30, noNaN: true }),
        fc.double({ min: 0.01, max: 2, noNaN: true }),
        (kappa, temperature, temperatureError) => {
          const given = { kappa, temperature, compensation };
          const low = value("kappa25-uncertainty", { ...given, temperatureError }, "low");
          const middle = value("kappa25-uncertainty", { ...given, temperatureError }, "kappa25");
          const high = value("kappa25-uncertainty", { ...given, temperatureError }, "high");
          return (
            low < middle &&
            middle < high &&
            value("kappa25-uncertainty", { ...given, temperatureError: 0 }, "high") === middle
          );
        },
      ),
    );
  });
  it("of 1 °C is some 2 % of natural water, and more of pure water", () => {
    const width = (compensation: string, kappa: number) => {
      const given = { kappa, temperature: 20, temperatureError: 1, compensation };
      return (
        (value("kappa25-uncertainty", given, "high") - value("kappa25-uncertainty", given, "low")) /
        (2 * value("kappa25-uncertainty", given, "kappa25"))
      );
    };
    expect(width("natural", 300)).toBeCloseTo(0.023, 2);
    expect(width("pure", 0.06)).toBeGreaterThan(0.03);
  });
  it("that leaves the range of the way says what is left of it", () => {
    expect(
      compute("kappa25-uncertainty", {
        kappa: 300,
        temperature: 35.5,
        temperatureError: 1,
        compensation: "natural",
      }),
    ).toMatchObject({ code: "out-of-range", message: expect.stringContaining("from 1 to 34.9") });
  });
});

describe("a probe that compensates on its own", () => {
  const temperatures = Array.from({ length: 24 }, (_, hour) => 14 + 5 * Math.sin((hour * Math.PI) / 12));
  // Fixed unevenness of 1 %, without any plan: the digits of pi.
  const uneven = [..."314159265358979323846264"].map((digit) => 1 + (Number(digit) - 4.5) / 450);
  const find = (reading: (tC: number) => number) =>
    compute("probe-compensation", {
      temperatures,
      readings: temperatures.map((tC, place) => reading(tC) * (uneven[place] ?? 1)),
    });
  it("is told from one that doesn't", () => {
    expect(find((tC) => naturalAt(400, tC))).toMatchObject({ values: { kind: "raw" } });
    expect(find((tC) => linearAt(400, tC, 0.02))).toMatchObject({ values: { kind: "raw" } });
    expect(find((tC) => pureAt(5, tC))).toMatchObject({ values: { kind: "raw" } });
    expect(find(() => 400)).toMatchObject({ values: { kind: "already-compensated" } });
    expect(find((tC) => 400 / (1 + 0.02 * (tC - 25)))).toMatchObject({
      values: { kind: "compensated-twice" },
    });
  });
  it("can't be told where temperature stood still or the water itself changed", () => {
    const readings = temperatures.map(() => 400);
    expect(compute("probe-compensation", { readings, temperatures: readings.map(() => 15) })).toMatchObject({
      values: { kind: "can't-tell", halfWidth: null },
    });
    const tap = temperatures.map((tC, place) => naturalAt(place % 3 === 0 ? 900 : 300, tC));
    expect(compute("probe-compensation", { readings: tap, temperatures })).toMatchObject({
      values: { kind: "can't-tell" },
    });
  });
  it("asks for ten pairs, and one temperature for each reading", () => {
    expect(compute("probe-compensation", { readings: [1, 2], temperatures: [1, 2] })).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("number of readings is 2"),
    });
    expect(
      compute("probe-compensation", { readings: temperatures, temperatures: temperatures.slice(1) }),
    ).toMatchObject({ code: "out-of-range", message: expect.stringContaining("One for each reading") });
  });
});
