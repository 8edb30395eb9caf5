import { lineOf } from "@drumlin/gateway/series";
import { expect, it } from "vitest";

// Escapes: InfluxData, InfluxDB OSS 2.7 reference, "Line protocol", special characters (tag values: comma, equals sign,
// space; a backslash may be escaped, from memory).
it.each([
  [
    { series: "point/supply/conductivity25", tMs: 1000, value: 412.5, flag: 1 },
    "point,series=point/supply/conductivity25 v=412.5,q=1i 1000",
  ],
  [
    { series: "reading/press/ec-1[S/m]", tMs: 0.4, value: 5e-324, flag: 3 },
    "reading,series=reading/press/ec-1[S/m] v=5e-324,q=3i 0",
  ],
  [
    { series: "point/a b,c=d/flow", tMs: 5, value: 2, flag: 4 },
    "point,series=point/a\\ b\\,c\\=d/flow v=2,q=4i 5",
  ],
  [{ series: "point/supply/flow", tMs: 5, value: null, flag: 9 }, "point,series=point/supply/flow q=9i 5"],
] as const)("%j", (row, line) => {
  expect(lineOf(row)).toBe(line);
});
