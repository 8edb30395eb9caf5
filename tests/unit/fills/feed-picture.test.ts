import fc from "fast-check";
import { expect, test } from "vitest";
import { feedOf, newFeedTrace, takeFeed } from "../../../gateway/src/fills/record/feeds.ts";

const sampleMs = 10 * 60_000;
const dayMs = 86_400_000;

/** Straight line between the two neighbours of a share, by counting and not by sorting. */
function shareOf(values: readonly number[], share: number): number {
  const nth = (place: number) =>
    values.find(
      (one) =>
        values.filter((other) => other < one).length <= place &&
        values.filter((other) => other <= one).length > place,
    ) as number;
  const place = (values.length - 1) * share;
  const below = nth(Math.floor(place));
  return below + (nth(Math.ceil(place)) - below) * (place - Math.floor(place));
}

// A gap of days lets all go, one of a minute adds nothing; few different values, so that equal ones come and go.
const readings = fc.array(
  fc.record({
    afterMs: fc.oneof(
      fc.constantFrom(0, 60_000, sampleMs, 2 * sampleMs, 100 * sampleMs, dayMs, 3 * dayMs),
      fc.integer({ min: -sampleMs, max: 4 * sampleMs }),
    ),
    kappa25: fc.oneof(fc.constantFrom(0.055, 410, 411, 412), fc.double({ min: 1e-6, max: 1e5, noNaN: true })),
    isAsked: fc.boolean(),
  }),
  { minLength: 1, maxLength: 300 },
);

test("the picture of a feed is that of the last 24 h, however often it is asked for, and also after a start", () => {
  fc.assert(
    fc.property(readings, (came) => {
      const trace = newFeedTrace();
      let tMs = Date.UTC(2026, 0, 1);
      let kept: { readonly tMs: number; readonly kappa25: number }[] = [];
      for (const { afterMs, kappa25, isAsked } of came) {
        tMs += afterMs;
        const newest = kept.at(-1);
        const isSample = newest === undefined || tMs - newest.tMs >= sampleMs;
        expect(takeFeed(trace, kappa25, tMs)).toBe(isSample);
        if (isSample) kept = [...kept, { tMs, kappa25 }].filter((one) => one.tMs >= tMs - dayMs);
        if (!isAsked) continue;
        const values = kept.map((one) => one.kappa25);
        const expected = { median25: shareOf(values, 0.5), p99: shareOf(values, 0.99) };
        expect(feedOf(trace)).toEqual(expected);
        expect(feedOf(structuredClone(trace))).toEqual(expected);
      }
    }),
    { numRuns: 60 },
  );
});
