import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

function value(id: string, inputs: Record<string, unknown>, output: string): number {
  const computed = compute(id, inputs);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values[output] as number;
}

const saltmarsh = {
  calcium: 55,
  magnesium: 12,
  sodium: 28,
  potassium: 3.2,
  bicarbonate: 170,
  sulfate: 77,
  chloride: 20,
};

describe("an ion analysis", () => {
  it("that balances passes, and one that lost its calcium does not", () => {
    expect(compute("charge-balance", saltmarsh)).toMatchObject({ values: { acceptable: true } });
    expect(compute("charge-balance", { ...saltmarsh, calcium: 0 })).toMatchObject({
      values: { acceptable: false },
    });
  });
  it("has tight limits where it is dilute, wider where it is salt", () => {
    const salt = (chloride: number, sodium: number) => compute("charge-balance", { chloride, sodium });
    expect(salt(35.453, 22.98977 * 1.19)).toMatchObject({ values: { allowed: 0.2, acceptable: true } });
    expect(salt(35.453, 22.98977 * 1.21)).toMatchObject({ values: { acceptable: false } });
    expect(salt(35.453 * 5, 22.98977 * 5.3)).toMatchObject({ values: { acceptable: false } });
    expect(salt(35.453 * 20, 22.98977 * 21.5)).toMatchObject({ values: { acceptable: true } });
  });
  it("without ions is refused", () => {
    expect(compute("charge-balance", {})).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("an analysis names ions"),
    });
  });
  it("dries to less than its sum by what bicarbonate loses", () => {
    const inputs = { bicarbonate: 100, sodium: 37.68 };
    const lost = value("solids-of-ions", inputs, "sum") - value("solids-of-ions", inputs, "residue");
    expect(lost).toBeCloseTo(100 * (1 - 0.491741), 3);
  });
  it("gives a factor with the measured conductivity, or else with the computed one", () => {
    expect(value("solids-of-ions", { ...saltmarsh, kappa25: 477 }, "factor")).toBeCloseTo(
      value("solids-of-ions", saltmarsh, "residue") / 477,
      9,
    );
    const computed = value("solids-of-ions", saltmarsh, "factor");
    expect(computed).toBeGreaterThan(0.54);
    expect(computed).toBeLessThan(0.75);
  });
});

describe("conductivity from ions", () => {
  it("has no step where the stated range begins, and nowhere else", () => {
    const at = (mmolPerL: number) =>
      value("conductivity-of-ions", { sodium: 22.98977 * mmolPerL, chloride: 35.453 * mmolPerL }, "kappa25");
    fc.assert(
      fc.property(fc.double({ min: 0.0005, max: 600, noNaN: true }), (mmolPerL) => {
        const ratio = at(mmolPerL * 1.001) / at(mmolPerL);
        return ratio > 1.0005 && ratio < 1.0011;
      }),
    );
    expect(at(0.4005) / at(0.3995) - 1).toBeLessThan(0.0026);
  });
  it("refuses what is stronger than a way was measured for, and says where to go", () => {
    const sea = { sodium: 30_000, chloride: 46_000 };
    expect(compute("conductivity-of-ions", sea)).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("from 0 to 0.7"),
    });
    const tenthMolar = { sodium: 2298.977, chloride: 3545.3 };
    expect(compute("conductivity-of-ions-standard", tenthMolar)).toMatchObject({
      code: "out-of-range",
      message: expect.stringMatching(/from 0 to 0\.02 mol.*conductivity-of-ions/u),
    });
  });
  it("is less where calcium pairs with sulfate than where sodium can't", () => {
    const paired = value(
      "conductivity-of-ions-paired",
      { calcium: 400.78, sulfate: 960.626 },
      "ionicStrength",
    );
    expect(paired).toBeLessThan(0.03);
    expect(
      value("conductivity-of-ions-paired", { sodium: 459.8, sulfate: 960.626 }, "ionicStrength"),
    ).toBeCloseTo(0.03, 4);
  });
  it("grows with temperature and with everything dissolved", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 90, noNaN: true }),
        fc.double({ min: 1.05, max: 3, noNaN: true }),
        (temperature, times) => {
          const at = (inputs: Record<string, number>) =>
            value("conductivity-of-ions-paired", inputs, "kappa");
          const here = at({ ...saltmarsh, temperature });
          const more = Object.fromEntries(
            Object.entries(saltmarsh).map(([name, mass]) => [name, mass * times]),
          );
          return (
            at({ ...saltmarsh, temperature: temperature + 1 }) > here && at({ ...more, temperature }) > here
          );
        },
      ),
    );
  });
  it("counts H+ where the pH is given", () => {
    expect(value("conductivity-of-ions-paired", { ...saltmarsh, pH: 3 }, "kappa")).toBeGreaterThan(
      value("conductivity-of-ions-paired", saltmarsh, "kappa") + 300,
    );
  });
});

describe("salts that stand for solids", () => {
  it.each([
    ["potassium-chloride", 69_000],
    ["natural-mix", 14_700],
  ])("%s and its inverse return to where they began", (salt, most) => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: most, noNaN: true }), (kappa25) => {
        const solids = value(`solids-as-${salt}`, { kappa25 }, "solids");
        return Math.abs(value(`conductivity-of-${salt}`, { solids }, "kappa25") / kappa25 - 1) < 1e-9;
      }),
    );
  });
});
