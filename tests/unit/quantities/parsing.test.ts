import { parseConcentration, parseQuantity, type Substance } from "@drumlin/gateway/quantities";
import { describe, expect, it } from "vitest";

describe("quantities as people write them", () => {
  it.each([
    ["5 uS/cm", "conductivity", 5],
    ["5,5 µS/cm", "conductivity", 5.5],
    ["1.413 mS/cm", "conductivity", 1413],
    ["0.1 S/m", "conductivity", 1000],
    ["18.2 MΩ·cm", "conductivity", 1 / 18.2],
    ["120 gal", "volume", 120 * 3.785411784],
    ["55 imp gal", "volume", 55 * 4.54609],
    ["200L", "volume", 200],
    ["0,3 m", "length", 0.3],
    [".5 m", "length", 0.5],
    ["−5 °C", "temperature", -5],
    ["77 °F", "temperature", 25],
    ["298.15 K", "temperature", 25],
    ["9 dH", "hardness", 9 * 17.848],
    ["9 °dH", "hardness", 9 * 17.848],
    ["10 °f", "hardness", 100],
    ["1 bar", "pressure", 100],
    ["75 gpd", "flow", (75 * 3.785411784) / 1440],
  ] as const)("%s", (text, dimension, value) => {
    const parsed = parseQuantity(text, dimension);
    expect(parsed).toMatchObject({ ok: true });
    // A degree of hardness is printed as 17.848 mg/L: its rows can be no closer than that print; the others are exact.
    if (parsed.ok) expect(parsed.value).toBeCloseTo(value, dimension === "hardness" ? 3 : 9);
  });
  it.each([
    ["200", "volume", "not-a-quantity", "has no unit"],
    ["two hundred L", "volume", "not-a-quantity", "not a number"],
    ["1,413 uS/cm", "conductivity", "not-a-quantity", "write 1413 or 1.413"],
    ["1.234,5 L", "volume", "not-a-quantity", "sets thousands apart"],
    ["1 413 uS/cm", "conductivity", "not-a-quantity", "sets thousands apart"],
    ["1'413 uS/cm", "conductivity", "not-a-quantity", "sets thousands apart"],
    ["1,413,000 L", "volume", "not-a-quantity", "sets thousands apart"],
    ["1.2.3 L", "volume", "not-a-quantity", "not a number"],
    ["1e999 L", "volume", "not-a-quantity", "too large"],
    // SI Brochure, 9th ed. (2019): 0 K is -273.15 °C.
    ["-300 °C", "temperature", "not-a-quantity", "nothing is below -273.15 Cel"],
    ["-460 F", "temperature", "not-a-quantity", "nothing is below -459.67 [degF]"],
    ["-1 K", "temperature", "not-a-quantity", "nothing is below 0 K"],
    ["-18 MOhm.cm", "conductivity", "not-a-quantity", "nothing is below 0 MOhm.cm"],
    ["0 MOhm.cm", "conductivity", "not-a-quantity", "no value in uS/cm"],
    ["5 uS/cm", "volume", "unknown-unit", "known are L, mL"],
    ["9 dH", "conductivity", "unknown-unit", "known are uS/cm"],
  ] as const)("%s is no %s: %s", (text, dimension, code, words) => {
    const parsed = parseQuantity(text, dimension);
    expect(parsed).toMatchObject({ ok: false, code });
    if (!parsed.ok) expect(parsed.message).toContain(words);
  });
});

describe("hand-test values", () => {
  it.each<[string, Substance, number, string, boolean]>([
    ["0.25 mg/L as N", "ammonia", 0.25, "N", false],
    ["0,5 ppm NH3", "ammonia", 0.5, "NH3", false],
    ["0.5 mg/L NH₄⁺", "ammonia", 0.5, "NH4", false],
    ["0.5 mg{N}/L", "nitrate", 0.5, "N", false],
    ["40 mg/L NO3", "nitrate", 40, "NO3", false],
    ["< 0.02 mg/L NO2-N", "nitrite", 0.02, "N", true],
    ["50 ug/L Cl2", "total-chlorine", 0.05, "Cl2", false],
    ["0.1 mg/L", "free-chlorine", 0.1, "Cl2", false],
    ["150 mg/L", "hardness", 150, "CaCO3", false],
    ["150 mg/L as CaCO3", "alkalinity", 150, "CaCO3", false],
    ["10 dKH", "alkalinity", 178.47988, "CaCO3", false],
    ["2.5 meq/L", "alkalinity", 125.10863, "CaCO3", false],
    ["1.5 mmol/L", "hardness", 150.13035, "CaCO3", false],
    ["61 mg/L HCO3", "alkalinity", 61, "HCO3", false],
  ])("%s of %s", (text, substance, mgPerL, as, below) => {
    const parsed = parseConcentration(text, substance);
    expect(parsed).toMatchObject({ ok: true, as, below });
    if (parsed.ok) expect(parsed.mgPerL).toBeCloseTo(mgPerL, 4);
  });
  it.each<[string, Substance, string]>([
    ["0.5 mg/L", "ammonia", "basis-missing"],
    ["0.5 ppm", "nitrite", "basis-missing"],
    ["2.5 mmol/L", "alkalinity", "basis-missing"],
    ["40", "nitrate", "unknown-unit"],
    ["0.5 mg/L as CaCO3", "ammonia", "basis-mismatch"],
    ["0.5 mg/L NO3", "nitrite", "basis-mismatch"],
    ["0.5 uS/cm", "ammonia", "unknown-unit"],
    ["a trace", "ammonia", "not-a-quantity"],
    ["-0.5 mg/L as N", "ammonia", "not-a-quantity"],
    ["1,413 mg/L as N", "nitrate", "not-a-quantity"],
  ])("%s of %s is refused: %s", (text, substance, code) => {
    expect(parseConcentration(text, substance)).toMatchObject({ ok: false, code });
  });
});
