import fc from "fast-check";
import type { createProbeBench } from "./probe-bench.ts";

export type Bench = ReturnType<typeof createProbeBench>;

export const units = {
  "press/ec-1": "S/m",
  "press/ec-2": "S/m",
  "press/ec-3": "S/m",
  "press/ec-9": "S/m",
  "press/pen": "kg/m3",
  "press/salt-pen": "kg/m3",
  "press/t-1": "Cel",
  "press/p-1": "Pa",
  "press/flow-1": "m3/s",
  "drums/l-1": "m",
  "drums/p-2": "Pa",
  "drums/t-1": "Cel",
  "drums/ec-1": "S/m",
  "drums/f-1": null,
  "other/x": "V",
} as const;
export const anyReading = fc.record({
  channel: fc.constantFrom(...(Object.keys(units) as (keyof typeof units)[])),
  ownUnit: fc.integer({ min: 0, max: 9 }).map((drawn) => drawn > 0),
  value: fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.double({ min: -1, max: 60, noNaN: true }),
    fc.constantFrom(0, 1, -0, 1e-5),
  ),
  atS: fc.double({ min: -400, max: 400, noNaN: true }),
  flag: fc.constantFrom(1 as const, 2 as const, 3 as const),
});
