import { convert, parseQuantity } from "@drumlin/gateway/quantities";
import { compute } from "@drumlin/gateway/water";
import { describe, expect, it } from "vitest";

describe("units as the trade writes them", () => {
  it.each([
    ["3.6 ft3", "volume", 101.94],
    ["3.6 ft³", "volume", 101.94],
    ["1.2 dS/m", "conductivity", 1200],
    ["450 umho/cm", "conductivity", 450],
    ["450 µmhos/cm", "conductivity", 450],
    ["18.2 megohm cm", "conductivity", 0.054945],
    ["18.2 megohm", "conductivity", 0.054945],
    ["18.2 MΩ·cm", "conductivity", 0.054945],
    ["250 ms", "time", 0.25],
    ["5 min", "time", 300],
    ["4 h", "time", 14400],
    ["2 d", "time", 172800],
    ["10 kgr/ft3", "capacity", 0.45727],
    ["35 ppt", "salinity", 35],
    ["35 PSU", "salinity", 35],
  ] as const)("%s is a %s", (text, dimension, value) => {
    const read = parseQuantity(text, dimension);
    expect(read).toMatchObject({ ok: true });
    if (read.ok) expect(read.value / value).toBeCloseTo(1, 4);
  });
  it("mS is a conductivity and ms a time, whichever is asked for", () => {
    expect(convert(1, "mS", "uS/cm")).toBe(1000);
    expect(convert(1, "ms", "s")).toBe(0.001);
    expect(() => convert(1, "ms", "L")).toThrow("can't become");
  });
});

describe("formulas given such units", () => {
  it("salinity may be said in ppt or PSU, and g/kg is by mass", () => {
    const plain = compute("conductivity-of-salinity", { salinity: 35, temperature: 25 });
    expect(compute("conductivity-of-salinity", { salinity: "35 ppt", temperature: 25 })).toEqual(plain);
    expect(compute("conductivity-of-salinity", { salinity: "35 PSU", temperature: 25 })).toEqual(plain);
    const byMass = compute("conductivity-of-salinity", { salinity: "35.16504 g/kg", temperature: 25 });
    expect(
      byMass.ok && plain.ok && (byMass.values.kappa as number) / (plain.values.kappa as number),
    ).toBeCloseTo(1, 9);
  });
  it("a salinity is no share, a share no salinity", () => {
    const given = { feed: 700, permeate: 21, recovery: "35 ppt" };
    expect(compute("membrane-rejection", given)).toMatchObject({ ok: false, code: "unit-mismatch" });
  });
  it("times may be said in minutes and hours where seconds are asked", () => {
    expect(compute("qartod-gap", { age: "90 min", longest: "1 h" })).toMatchObject({ values: { flag: 4 } });
    expect(compute("qartod-gap", { age: "30 min", longest: "1 h" })).toMatchObject({ values: { flag: 1 } });
  });
});
