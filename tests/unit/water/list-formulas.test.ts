import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const value = fc.oneof(
  fc.double({ min: -1e12, max: 1e12, noNaN: true }),
  fc.constantFrom(0, 5e-324, -5e-324, 1e-300, 1e12, -1e12, 7, 7.000001),
);

/** Numbers anywhere in an answer. */
function numbersOf(answer: unknown): number[] {
  if (typeof answer === "number") return [answer];
  return typeof answer === "object" && answer !== null ? Object.values(answer).flatMap(numbersOf) : [];
}

function holds(id: string, given: Readonly<Record<string, unknown>>): void {
  const computed = compute(id, given);
  if (computed.ok) expect(numbersOf(computed.values).every(Number.isFinite), id).toBe(true);
  else expect(computed.message.length, id).toBeGreaterThan(10);
}

describe("formulas of lists", () => {
  it("never throw, and never give NaN from finite values, however odd", () => {
    fc.assert(
      fc.property(
        fc.array(value, { maxLength: 12 }),
        fc.array(value, { maxLength: 12 }),
        value,
        (a, b, one) => {
          for (const id of ["robust-spread", "mann-kendall", "pettitt"]) holds(id, { values: a });
          for (const id of ["theil-sen", "straight-line"]) holds(id, { x: a, y: b.slice(0, a.length) });
          holds("holt-linear", { values: a, alpha: 0.7, beta: 0.2, steps: 3 });
          holds("cusum", { values: a, target: one, allowance: 1, limit: 1e-12, headStart: 0.5 });
          holds("ewma-chart", { values: a, target: one, deviation: 1e-12, weight: 0.3 });
          holds("qartod-spike", { values: a, suspect: 1, fail: 2 });
          holds("qartod-rate", { values: a, seconds: a.map((_, place) => place), suspect: 1 });
          holds("qartod-attenuated", {
            values: a,
            seconds: b,
            by: "deviation",
            suspect: 2,
            fail: 1,
            window: 5,
          });
          const pairs = b.map((reading, place) => ({ reading, correction: a[place] ?? 0 }));
          holds("drift-correction", { reading: one, elapsed: 5, span: 10, pairs });
        },
      ),
      { numRuns: 500 },
    );
  });
  it("take a list that is too long or empty as a refusal that says so", () => {
    const long = Array.from({ length: 1001 }, () => 1);
    expect(compute("robust-spread", { values: long })).toMatchObject({ ok: false });
    expect(compute("robust-spread", { values: [] })).toMatchObject({ ok: false });
    expect(compute("theil-sen", { x: [1, 1, 1], y: [1, 2, 3] })).toMatchObject({ code: "out-of-range" });
  });
  it("a correction beyond the pairs of a check is marked: nothing was checked there", () => {
    const pairs = [
      { reading: 84, correction: 2 },
      { reading: 1390, correction: 23 },
    ];
    const at = (reading: number) => compute("drift-correction", { reading, elapsed: 5, span: 10, pairs });
    expect(at(412)).toMatchObject({ values: { beyond: false } });
    expect(at(2000)).toMatchObject({ values: { correction: 11.5, beyond: true } });
    expect(at(10)).toMatchObject({ values: { correction: 1, beyond: true } });
  });
  it("take nulls for missing values where they may be missing, and nowhere else", () => {
    const given = { values: [1, null, 3], suspect: 1 };
    expect(compute("qartod-spike", given)).toMatchObject({ ok: true, values: { flags: [2, 9, 2] } });
    expect(compute("mann-kendall", { values: [1, null, 3] })).toMatchObject({ code: "input-not-understood" });
  });
});

describe("units and sea water by name", () => {
  it("what has no value the other way round is out of range", () => {
    const given = { value: 0, from: "MOhm.cm", to: "uS/cm" };
    expect(compute("convert", given)).toMatchObject({ code: "out-of-range" });
    expect(compute("convert", { ...given, to: "L" })).toMatchObject({ code: "unit-mismatch" });
    expect(compute("convert", { ...given, to: "furlong" })).toMatchObject({ code: "unit-mismatch" });
  });
  it("nitrogen does not become hardness", () => {
    const given = { concentration: 1, from: "N", to: "CaCO3" };
    expect(compute("convert-concentration", given)).toMatchObject({ code: "unit-mismatch" });
  });
  it("saltier than the scale is a refusal that names it", () => {
    const computed = compute("salinity-of-conductivity", { kappa: 90_000, temperature: 25 });
    expect(computed).toMatchObject({ code: "out-of-range", message: expect.stringContaining("42") });
  });
  it("salinity to conductivity and back returns to where it began", () => {
    const salinity = fc.double({ min: 0.01, max: 42, noNaN: true });
    const temperature = fc.double({ min: -2, max: 35, noNaN: true });
    fc.assert(
      fc.property(salinity, temperature, (began, tC) => {
        const forth = compute("conductivity-of-salinity", { salinity: began, temperature: tC });
        if (!forth.ok) throw new Error(forth.message);
        const back = compute("salinity-of-conductivity", { kappa: forth.values.kappa, temperature: tC });
        // The very end of the scale may come back a rounding error beyond it.
        if (!back.ok) return began > 42 - 1e-9;
        return Math.abs((back.values.salinity as number) - began) < 1e-9 * 42;
      }),
    );
  });
});
