import fc from "fast-check";
import { expect, it } from "vitest";
import { type KappaTrace, keptOf, remember } from "../../../gateway/src/fills/record/kappa-trace.ts";

const reading = fc.record({
  /** ms since the one before: mostly the pace of a node, at times a silence, a repeat, or one that came late. */
  stepMs: fc.oneof(
    { weight: 8, arbitrary: fc.constantFrom(1000, 5000, 60_000) },
    { weight: 1, arbitrary: fc.constantFrom(0, -3000, 20 * 60_000, 41 * 60_000) },
  ),
  kappa25: fc.oneof(
    { weight: 9, arbitrary: fc.constantFrom(0.1, 1, 5, 90) },
    { weight: 1, arbitrary: fc.constant(null) },
  ),
  isLookedAt: fc.oneof(
    { weight: 20, arbitrary: fc.constant(false) },
    { weight: 1, arbitrary: fc.constant(true) },
  ),
});

/** What is kept, cut at each reading. */
function cutAtEach(trace: KappaTrace): void {
  const lastMs = trace.at(-1)?.tMs ?? 0;
  while (trace.length > 480 || (trace.length > 2 && (trace[1]?.tMs ?? 0) < lastMs - 40 * 60_000))
    trace.shift();
}

it("a trace is the same whenever it is cut, and never holds more than 640 readings", () => {
  fc.assert(
    fc.property(
      fc.array(reading, { minLength: 1, maxLength: 60 }),
      fc.integer({ min: 1, max: 30 }),
      (some, times) => {
        const seldom: KappaTrace = [];
        const each: KappaTrace = [];
        let tMs = 0;
        for (let time = 0; time < times; time += 1)
          for (const { stepMs, kappa25, isLookedAt } of some) {
            tMs = Math.max(0, tMs + stepMs);
            remember(seldom, { tMs, kappa25 });
            remember(each, { tMs, kappa25 });
            cutAtEach(each);
            if (seldom.length > 640) throw new Error(`${seldom.length} readings`);
            if (isLookedAt) expect(keptOf(seldom)).toEqual(each);
          }
        expect(keptOf(seldom)).toEqual(each);
      },
    ),
    { numRuns: 150 },
  );
});
