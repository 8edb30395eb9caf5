import fc from "fast-check";
import { expect, it } from "vitest";
import { rowsAsBatch } from "../../../gateway/src/series/influx/rows-as-batch.ts";
import { sentRows } from "../../../gateway/src/series/influx/sent-rows.ts";

const row = fc.record({
  series: fc.constantFrom("a", "b", "c", "d"),
  tMs: fc.integer({ min: -5, max: 5 }),
  value: fc.option(fc.double({ noNaN: true })),
  flag: fc.constantFrom(1, 2, 3, 4, 9),
});

it("of a batch, the rows of the series that are sent stay as they are, in their order", () => {
  fc.assert(
    fc.property(fc.array(row, { maxLength: 30 }), fc.subarray(["a", "b", "c", "d"]), (rows, sent) => {
      const { names, series, tMs, values, flags } = sentRows(rowsAsBatch(rows), (name) =>
        sent.includes(name),
      );
      const given = Array.from(series, (name, at) => [names[name], tMs[at], values[at], flags[at]]);
      const due = rows.filter(({ series: name }) => sent.includes(name));
      expect(given).toEqual(due.map((one) => [one.series, one.tMs, one.value ?? Number.NaN, one.flag]));
    }),
  );
});
