import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

function value(id: string, inputs: Record<string, unknown>, output: string): number {
  const computed = compute(id, inputs);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values[output] as number;
}

const pH = fc.double({ min: 6.5, max: 8.9, noNaN: true });
const cold = fc.double({ min: 0, max: 29, noNaN: true });

describe("un-ionised ammonia", () => {
  it.each(["ammonia-unionised-fresh", "ammonia-unionised-sea"])("%s grows with pH and warmth", (id) => {
    const extra = id.endsWith("sea") ? { salinity: 34 } : {};
    fc.assert(
      fc.property(pH, cold, (atPh, tC) => {
        const here = value(id, { pH: atPh, temperature: tC, ...extra }, "share");
        return (
          value(id, { pH: atPh + 0.1, temperature: tC, ...extra }, "share") > here &&
          value(id, { pH: atPh, temperature: tC + 1, ...extra }, "share") > here &&
          here > 0 &&
          here < 1
        );
      }),
    );
  });
  it("and total ammonia return to where they began", () => {
    fc.assert(
      fc.property(pH, cold, fc.double({ min: 0.001, max: 100, noNaN: true }), (atPh, tC, total) => {
        const nitrogen = value("ammonia-unionised-fresh", { pH: atPh, temperature: tC, total }, "nitrogen");
        const back = value(
          "ammonia-total-of-unionised-fresh",
          { pH: atPh, temperature: tC, unionised: nitrogen },
          "total",
        );
        return Math.abs(back / total - 1) < 1e-9;
      }),
    );
  });
  it("salt holds a smaller share than fresh water does", () => {
    const at = { pH: 8, temperature: 20 };
    expect(value("ammonia-unionised-sea", { ...at, salinity: 34 }, "share")).toBeLessThan(
      value("ammonia-unionised-fresh", at, "share"),
    );
  });
  it("fresh and salt water join: no salt has the share of fresh water", () => {
    fc.assert(
      fc.property(pH, cold, (atPh, tC) => {
        const at = { pH: atPh, temperature: tC };
        const salt = value("ammonia-unionised-sea", { ...at, salinity: 0 }, "share");
        return Math.abs(salt / value("ammonia-unionised-fresh", at, "share") - 1) < 1e-12;
      }),
    );
  });
  it("ammonia is 17 parts where nitrogen is 14", () => {
    expect(value("ammonia-as-nitrogen", { ammonia: 1.2159 }, "nitrogen")).toBeCloseTo(1, 4);
  });
});

describe("ammonia criteria", () => {
  it("fall with pH and warmth, and the chronic one stands still below 7 °C", () => {
    fc.assert(
      fc.property(pH, fc.double({ min: 16, max: 29, noNaN: true }), fc.boolean(), (atPh, tC, trout) => {
        const id = "ammonia-criteria-fresh";
        return ["acute", "chronic"].every(
          (output) =>
            value(id, { pH: atPh + 0.1, temperature: tC, trout }, output) <
              value(id, { pH: atPh, temperature: tC, trout }, output) &&
            value(id, { pH: atPh, temperature: tC + 1, trout }, output) <
              value(id, { pH: atPh, temperature: tC, trout }, output),
        );
      }),
    );
    const chronic = (temperature: number) =>
      value("ammonia-criteria-fresh", { pH: 7, temperature }, "chronic");
    expect(chronic(0)).toBe(chronic(7));
    expect(chronic(8)).toBeLessThan(chronic(7));
  });
  it("without trout are never stricter", () => {
    const acute = (trout: boolean) =>
      value("ammonia-criteria-fresh", { pH: 7, temperature: 10, trout }, "acute");
    expect(acute(false)).toBeGreaterThan(acute(true));
  });
  it("in salt water are the un-ionised criteria over the share, so their ratio never moves", () => {
    const at = { pH: 8.1, temperature: 22, salinity: 33 };
    expect(
      value("ammonia-criteria-salt", at, "acute") / value("ammonia-criteria-salt", at, "chronic"),
    ).toBeCloseTo(0.233 / 0.035, 9);
  });
  it("in salt water give one verdict by total and by un-ionised ammonia", () => {
    const salinity = fc.double({ min: 5, max: 40, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 7, max: 9, noNaN: true }), cold, salinity, (atPh, tC, salt) => {
        const at = { pH: atPh, temperature: tC, salinity: salt };
        return ["acute", "chronic"].every((kind) => {
          const total = value("ammonia-criteria-salt", at, kind);
          const unionised = value("ammonia-unionised-sea", { ...at, total }, "ammonia");
          return Math.abs(unionised / value("ammonia-criteria-salt", at, `${kind}Unionised`) - 1) < 1e-9;
        });
      }),
    );
  });
  it("say the range of pH", () => {
    expect(compute("ammonia-criteria-fresh", { pH: 5, temperature: 20 })).toMatchObject({
      code: "out-of-range",
      message: expect.stringContaining("from 6.5 to 9"),
    });
  });
});
