import { hasCounted, isProvedUnchanged } from "@drumlin/gateway/measurements";
import { expect, it } from "vitest";

const from = (counted: boolean) => ({ sinceMs: 1000, atMs: 9000, withinL: 0, counted });

it.each([
  [500, true, true],
  [999, true, true],
  [1000, true, false],
  [5000, true, false],
  [500, false, false],
])(
  "a channel unchanged since 1,000 ms, after %s ms, by a count: %s, has counted: %s",
  (afterMs, counted, has) => {
    expect(hasCounted(from(counted), afterMs)).toBe(has);
  },
);

it.each([
  [1000, 9000, true],
  [2000, 3000, true],
  [999, 9000, false],
  [1000, 9001, false],
])("nothing happened from %s to %s ms: %s", (fromMs, toMs, proved) => {
  expect(isProvedUnchanged(from(true), fromMs, toMs)).toBe(proved);
});

it("of a channel that nobody counts nothing is proved", () => {
  expect([hasCounted(undefined, 0), isProvedUnchanged(undefined, 0, 1)]).toEqual([false, false]);
});
