import { expect, it } from "vitest";
import type { Verdict } from "../../../gateway/src/alarms/condition.ts";
import { count, nothingCounted } from "../../../gateway/src/alarms/tally.ts";

/** Litres of the on delay after verdicts that have these counts, one a second. */
function litresAfter(...counts: readonly (number | null)[]): number {
  let tally = nothingCounted;
  for (const [at, litres] of counts.entries()) {
    const verdict: Verdict = { is: true, value: 1, tMs: at * 1000, litres };
    tally = count(
      tally,
      { verdict, zone: "past", gross: false, isActive: false, isByShare: false },
      at * 1000,
    );
  }
  return tally.on.litres;
}

it("litres are counted from one reading to the next, and the first tells of none", () => {
  expect(litresAfter(40)).toBe(0);
  expect(litresAfter(40, 42, 42, 47)).toBe(7);
});

it("a count that is less than before has begun anew, and what it says now came since", () => {
  expect(litresAfter(40, 43, 2, 5)).toBe(3 + 2 + 3);
});

it("a reading without litres counts none, and loses none", () => {
  expect(litresAfter(40, null, 43)).toBe(3);
});
