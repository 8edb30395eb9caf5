import {
  cusum,
  cusumNext,
  cusumRunLength,
  cusumSide,
  cusumStart,
  ewma,
  ewmaRunLength,
  oneSidedCusumRunLength,
  siegmundRunLength,
} from "@drumlin/gateway/statistics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 60 });
const setting = { target: 0, allowance: 0.5, limit: 5 };

describe("CUSUM", () => {
  it("one value after the other is the same as the whole list", () => {
    fc.assert(
      fc.property(values, (list) => {
        let state = cusumStart(setting);
        const sides = list.map((value) => {
          state = cusumNext(setting, state, value);
          return cusumSide(setting, state);
        });
        const whole = cusum(list, setting);
        expect(whole.high.at(-1)).toBe(state.high);
        expect(whole.signalAt).toBe(sides.findIndex((side) => side !== null) + 1 || null);
      }),
    );
  });
  it("turned upside down it signals at the same place, the other way", () => {
    fc.assert(
      fc.property(values, (list) => {
        const up = cusum(list, setting);
        const down = cusum(
          list.map((value) => -value),
          setting,
        );
        expect(down.low).toEqual(up.high);
        if (up.side)
          expect([down.signalAt, down.side]).toEqual([up.signalAt, up.side === "up" ? "down" : "up"]);
      }),
    );
  });
  it("signals sooner with a head start, and not at all at the target", () => {
    const shifted = Array.from({ length: 20 }, () => 1);
    expect(cusum(shifted, { ...setting, headStart: 0.5 }).signalAt).toBe(6);
    expect(cusum(shifted, setting).signalAt).toBe(11);
    expect(
      cusum(
        Array.from({ length: 50 }, () => 0),
        { ...setting, headStart: 0.5 },
      ).signalAt,
    ).toBeNull();
  });
  it("refuses a limit that can't be", () => {
    expect(() => cusum([1], { ...setting, limit: 0 })).toThrow("limit is 0; it must be more than 0.");
    expect(() => cusum([1], { ...setting, headStart: 1 })).toThrow(/head start is 1/);
  });
});

describe("EWMA", () => {
  it("stays between the least and the greatest of target and values", () => {
    fc.assert(
      fc.property(values, fc.double({ min: 0.01, max: 1, noNaN: true }), (list, weight) => {
        const { averages, upper, steadyUpper } = ewma(list, { target: 0, deviation: 1, weight, width: 3 });
        const bound = Math.max(...list.map(Math.abs)) * (1 + 1e-12);
        for (const average of averages) expect(Math.abs(average)).toBeLessThanOrEqual(bound);
        for (const limit of upper) expect(limit).toBeLessThanOrEqual(steadyUpper + 1e-12);
      }),
    );
  });
  it("refuses a deviation of 0", () => {
    expect(() => ewma([1], { target: 0, deviation: 0, weight: 0.2, width: 3 })).toThrow(/deviation is 0/);
  });
});

describe("run lengths", () => {
  it("are shorter for a greater shift and longer for a wider limit", () => {
    const shift = fc.double({ min: 0, max: 4, noNaN: true });
    const limit = fc.double({ min: 1, max: 6, noNaN: true });
    fc.assert(
      fc.property(shift, limit, (by, at) => {
        expect(cusumRunLength(by + 0.1, 0.5, at)).toBeLessThan(cusumRunLength(by, 0.5, at));
        expect(cusumRunLength(by, 0.5, at + 0.1)).toBeGreaterThan(cusumRunLength(by, 0.5, at));
        expect(cusumRunLength(by, 0.5, at, 0.5)).toBeLessThan(cusumRunLength(by, 0.5, at));
      }),
      { numRuns: 30 },
    );
  });
  it("both sides signal no later than one", () => {
    expect(cusumRunLength(0, 0.5, 4)).toBeLessThan(oneSidedCusumRunLength(0, 0.5, 4));
  });
  it("Siegmund's line is within the error that it states", () => {
    for (const limit of [4, 4.5, 5]) {
      for (const shift of [0, 0.25, 0.5, 0.75, 1]) {
        const ratio = siegmundRunLength(shift, 0.5, limit) / cusumRunLength(shift, 0.5, limit);
        expect(Math.abs(ratio - 1)).toBeLessThan(0.015);
      }
      expect(siegmundRunLength(3, 0.5, limit) / cusumRunLength(3, 0.5, limit)).toBeGreaterThan(0.9);
    }
  });
  it("refuse what double precision can't tell", () => {
    expect(() => ewmaRunLength(0, 0.5, 5)).not.toThrow();
    expect(() => cusumRunLength(0, 2, 15)).toThrow(/run length/);
    expect(() => ewmaRunLength(0, 0.001, 3)).toThrow(/weight is 0.001; it must be from 0.02 to 1/);
  });
});
