import fc from "fast-check";
import { expect, it } from "vitest";
import type { Flag } from "../../../gateway/src/readings/index.ts";
import { lineOf } from "../../../gateway/src/series/line-protocol.ts";
import { LineText } from "../../../gateway/src/series/line-text.ts";

const row = fc.record({
  series: fc.nat(4),
  tMs: fc.oneof(
    fc.integer({ min: 1_764_000_000_000, max: 1_764_000_100_000 }),
    fc.double({ min: 1_764_000_000_000, max: 1_764_000_100_000, noNaN: true }),
    fc.constantFrom(
      0,
      -1,
      -0.4,
      999_999_999_999.6,
      1e12,
      1e13 - 1,
      1e13,
      9_007_199_254_740_991,
      1_763_999_999_999,
    ),
  ),
  value: fc.oneof(
    fc.double(),
    fc.constantFrom(
      0,
      -0,
      18.2,
      18.2,
      Number.NaN,
      Number.POSITIVE_INFINITY,
      5e-324,
      1.7976931348623157e308,
      1e21,
    ),
  ),
  flag: fc.constantFrom(1, 2, 3, 4, 9),
});
const names = ["point/supply/flow", "reading/a b,c=d[S/m]", "reading/ø\\n€[]", "line\nbreak", "x"];

it("is what the rows say one by one, any stretch of them, again and again", () => {
  fc.assert(
    fc.property(fc.array(row, { maxLength: 60 }), fc.nat(60), fc.nat(60), (rows, a, b) => {
      const text = new LineText({
        names,
        series: Uint32Array.from(rows, ({ series }) => series),
        tMs: Float64Array.from(rows, ({ tMs }) => tMs),
        values: Float64Array.from(rows, ({ value }) => value),
        flags: Uint8Array.from(rows, ({ flag }) => flag),
      });
      const lines = rows.map(({ series, tMs, value, flag }) =>
        lineOf({ series: names[series] as string, tMs, value, flag: flag as Flag }),
      );
      const [from, to] = [Math.min(a, b, rows.length), Math.min(Math.max(a, b), rows.length)];
      expect(text.of(from, to).toString()).toBe(lines.slice(from, to).join("\n"));
      expect(text.of(0, rows.length).toString()).toBe(lines.join("\n"));
    }),
    { numRuns: 2000, seed: 5 },
  );
});
