import { median, medianInPlace, quantile } from "@drumlin/gateway/statistics";
import fc from "fast-check";
import { expect, it } from "vitest";

/** Type 7 of Hyndman and Fan, by the engine's own sort. */
function byEngine(values: readonly number[], share: number): number {
  const column = new Float64Array(values).sort();
  const place = (column.length - 1) * share;
  const [below, above] = [column[Math.floor(place)] as number, column[Math.ceil(place)] as number];
  return below + (above - below) * (place - Math.floor(place));
}

const number = fc.oneof(
  // Without -0, which lies beside 0 in the order in which they came.
  { weight: 20, arbitrary: fc.double({ noNaN: true }).map((value) => value + 0) },
  { weight: 10, arbitrary: fc.integer({ min: -3, max: 3 }).map((value) => value + 0) },
  fc.constant(Number.NaN),
);
const values = fc.array(number, { minLength: 1, maxLength: 40 });

it("of few values or many, a quantile is what the engine's sort gives, and the values stay as they are", () => {
  fc.assert(
    fc.property(values, fc.constantFrom(0, 0.25, 0.5, 0.99, 1), (some, share) => {
      const before = [...some];
      expect(quantile(some, share)).toBe(byEngine(some, share));
      expect(median(some)).toBe(byEngine(some, 0.5));
      expect(some).toEqual(before);
    }),
    { numRuns: 2000 },
  );
});

it("the first of a column are sorted where they are, and those behind them stay", () => {
  fc.assert(
    fc.property(values, fc.array(number, { maxLength: 5 }), (some, more) => {
      const column = new Float64Array([...some, ...more]);
      expect(medianInPlace(column, some.length)).toBe(byEngine(some, 0.5));
      expect([...column]).toEqual([...new Float64Array(some).sort(), ...more]);
    }),
    { numRuns: 2000 },
  );
});
