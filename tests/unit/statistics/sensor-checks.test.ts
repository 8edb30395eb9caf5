import {
  attenuationFlags,
  correctionAt,
  flatLineFlags,
  gapFlag,
  grossRangeFlag,
  rateFlags,
  rollUp,
  spikeFlags,
} from "@drumlin/gateway/statistics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const maybe = fc.option(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { nil: null });
const values = fc.array(maybe, { maxLength: 40 });
const hour = 3_600_000;

describe("QARTOD tests", () => {
  it("give every value one flag, and a missing one 9 and nothing else", () => {
    fc.assert(
      fc.property(values, (list) => {
        const seconds = list.map((_value, place) => place * 60);
        const all = [
          list.map((value) => grossRangeFlag(value, { min: -1000, max: 1000 }, { min: 0, max: 100 })),
          spikeFlags(list, { suspect: 3, fail: 8 }),
          rateFlags(list, seconds, { suspect: 1 }),
          flatLineFlags(list, { suspectAfter: 3, failAfter: 5, tolerance: 0.05 }),
          attenuationFlags(list, seconds, { by: "range", suspect: 2, fail: 1, windowS: 600, leastValues: 2 }),
        ];
        for (const flags of all) {
          expect(flags).toHaveLength(list.length);
          for (const [place, flag] of flags.entries()) expect(flag === 9).toBe(list[place] === null);
        }
      }),
    );
  });
  it("without a fail threshold nothing fails", () => {
    fc.assert(fc.property(values, (list) => !spikeFlags(list, { suspect: 0 }).includes(4)));
  });
  it("a value alone in its window is neither stuck nor attenuated: nothing was seen to compare it with", () => {
    const alone = [1, null, null, null, 5];
    const flat = { suspectAfter: 2, failAfter: 3, tolerance: 0.1 };
    expect(flatLineFlags(alone, flat)).toEqual([1, 9, 9, 9, 1]);
    expect(flatLineFlags([5, null, null, 5], flat)).toEqual([1, 9, 9, 4]);
    const still = { by: "range", suspect: 2, fail: 1, windowS: 100 } as const;
    expect(attenuationFlags([1, 1, 1], [0, 1000, 1050], still)).toEqual([2, 2, 4]);
  });
  it("an hour without values is well, more is not", () => {
    expect(gapFlag(0, hour, hour)).toBe(1);
    expect(gapFlag(0, hour + 1, hour)).toBe(4);
    expect(gapFlag(null, hour, hour)).toBe(9);
  });
  it("the worst of several flags wins, and none at all is not evaluated", () => {
    expect(rollUp([1, 2, 3, 9])).toBe(3);
    expect(rollUp([])).toBe(2);
  });
  it("refuse times that don't rise and thresholds the wrong way round", () => {
    expect(() => rateFlags([1, 2], [5, 5], { suspect: 1 })).toThrow(/Times must rise/);
    expect(() => rateFlags([1, 2], [5], { suspect: 1 })).toThrow(/number of times is 1/);
    expect(() => flatLineFlags([1], { suspectAfter: 5, failAfter: 3, tolerance: 1 })).toThrow(
      /suspectAfter is 5/,
    );
  });
});

describe("a drift between two checks", () => {
  const span = {
    fromMs: 0,
    toMs: 10 * hour,
    pairs: [
      { reading: 0, correction: 0 },
      { reading: 1000, correction: -100 },
    ],
  };
  it("grows evenly from nothing to all of it", () => {
    expect(correctionAt(span, 0, 500)).toBeCloseTo(0, 12);
    expect(correctionAt(span, 5 * hour, 500)).toBe(-25);
    expect(correctionAt(span, 10 * hour, 500)).toBe(-50);
  });
  it("never goes beyond the pairs' own corrections", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e5, max: 1e5, noNaN: true }),
        fc.double({ min: 0, max: 10 * hour, noNaN: true }),
        (reading, atMs) => {
          const correction = correctionAt(span, atMs, reading);
          return correction <= 0 && correction >= -100;
        },
      ),
    );
  });
  it("refuses a time outside, no pairs, and pairs out of order", () => {
    expect(() => correctionAt(span, 11 * hour, 1)).toThrow(/time is 39600000 ms; it must be from 0/);
    expect(() => correctionAt({ ...span, pairs: [] }, 1, 1)).toThrow(/number of pairs is 0/);
    expect(() => correctionAt({ ...span, pairs: span.pairs.toReversed() }, 1, 1)).toThrow(/must rise/);
  });
});
