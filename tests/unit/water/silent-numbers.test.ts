import { compute } from "@drumlin/gateway/water";
import { describe, expect, it } from "vitest";

const valuesOf = (id: string, given: Readonly<Record<string, unknown>>) => {
  const computed = compute(id, given);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values;
};

describe("numbers that would say more than is known carry a flag", () => {
  it("natural water outside 60 to 1000 uS/cm at 25 °C, either way", () => {
    for (const [kappa, inRange] of [
      [40, false],
      [300, true],
      [800, true],
      [50_000, false],
    ] as const) {
      expect(valuesOf("natural-25", { kappa, temperature: 20 }).inRange).toBe(inRange);
      expect(valuesOf("natural-at", { kappa25: kappa, temperature: 20 }).inRange).toBe(inRange);
    }
  });
  it("high-purity water above 10 uS/cm, and at or under pure water itself (0.055)", () => {
    expect(valuesOf("pure-25", { kappa: 0.1, temperature: 20 })).toMatchObject({
      atLimit: false,
      inRange: true,
    });
    expect(valuesOf("pure-25", { kappa: 300, temperature: 20 })).toMatchObject({ inRange: false });
    expect(valuesOf("pure-25", { kappa: 0.03, temperature: 20 })).toMatchObject({ atLimit: true });
    expect(valuesOf("pure-at", { kappa25: 0.03, temperature: 20 })).toMatchObject({ atLimit: true });
    expect(valuesOf("pure-at", { kappa25: 300, temperature: 20 })).toMatchObject({
      inRange: false,
      atLimit: false,
    });
  });
  it("an interval by a compensation that was not made for the water", () => {
    const given = { kappa: 20_000, temperature: 20, temperatureError: 1 };
    expect(valuesOf("kappa25-uncertainty", { ...given, compensation: "natural" }).inRange).toBe(false);
    expect(valuesOf("kappa25-uncertainty", { ...given, compensation: "linear" }).inRange).toBe(true);
  });
  it("a second standard of which only the temperature is told", () => {
    const given = { standard: 1413, temperature: 25, read: 1400, secondTemperature: 22 };
    expect(valuesOf("conductivity-calibration", given).code).toBe("second-incomplete");
  });
});

describe("units are taken for what the input is", () => {
  const low = (temperatureError: unknown) =>
    valuesOf("kappa25-uncertainty", {
      kappa: 300,
      temperature: 15,
      temperatureError,
      compensation: "natural",
    }).low;
  it("a difference of temperatures is no temperature: 1.8 F are 1 K, and so are 1 C and 1 K", () => {
    for (const written of ["1.8 F", "1 C", "1 K", 1]) expect(low(written)).toBeCloseTo(low(1) as number, 9);
  });
  it("a B value stands in kelvin and in degrees alike", () => {
    const given = { resistance: 12_000, nominal: 10_000 };
    expect(valuesOf("ntc-beta-temperature", { ...given, beta: "3950 C" })).toEqual(
      valuesOf("ntc-beta-temperature", { ...given, beta: 3950 }),
    );
  });
  it("a share may be given in percent, a number without unit that is none may not", () => {
    expect(valuesOf("membrane-concentration", { recovery: "75 %" })).toEqual(
      valuesOf("membrane-concentration", { recovery: 0.75 }),
    );
    expect(compute("holt-linear", { values: [1, 2], alpha: 0.5, beta: 0.5, steps: "300 %" })).toMatchObject({
      code: "unit-mismatch",
    });
  });
  it("a salinity below 1.05 must say that it is one", () => {
    const given = { volume: 200, temperature: 24 };
    expect(compute("salt-batch", { ...given, salinity: 1.0264 })).toMatchObject({ ok: false });
    expect(compute("salt-batch", { ...given, salinity: "1.0264 PSU" })).toMatchObject({ ok: true });
    expect(compute("salt-batch", { ...given, salinity: 1 })).toMatchObject({ ok: true });
  });
  it("un-ionised ammonia of a total that nobody gave is not told", () => {
    expect(valuesOf("ammonia-unionised-fresh", { pH: 8, temperature: 25 })).not.toHaveProperty("nitrogen");
  });
  it("a list in one text has a space after each comma, or semicolons", () => {
    expect(valuesOf("robust-spread", { values: "1, 2; 3,5" })).toEqual(
      valuesOf("robust-spread", { values: [1, 2, 3.5] }),
    );
  });
});
