import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type KappaTrace, keptOf, remember } from "../../../gateway/src/fills/record/kappa-trace.ts";

/** What is kept: 480 readings, and of those older than 40 min before the last one the newest alone. */
function eagerly(trace: KappaTrace): KappaTrace {
  const lastMs = trace.at(-1)?.tMs ?? 0;
  const within = trace.slice(-480);
  const recent = within.findIndex(({ tMs }) => tMs >= lastMs - 40 * 60_000);
  return within.slice(Math.max(0, recent - 1));
}

describe("the trace of a point", () => {
  it("is cut in one go to what cutting it at each reading leaves", () => {
    const gapMs = fc.oneof(
      { weight: 600, arbitrary: fc.constantFrom(1000, 2000, 5000) },
      fc.constantFrom(0, -3000, 600_000, 2_400_000, 2_400_001, 9_000_000),
    );
    const reading = fc.tuple(gapMs, fc.option(fc.constantFrom(1, 1.1, 5)));
    fc.assert(
      fc.property(fc.array(reading, { minLength: 600, maxLength: 1500 }), fc.nat(40), (readings, every) => {
        const [lazy, eager]: [KappaTrace, KappaTrace] = [[], []];
        let tMs = 0;
        for (const [index, [gap, kappa25]] of readings.entries()) {
          tMs += gap;
          remember(lazy, { tMs, kappa25 });
          remember(eager, { tMs, kappa25 });
          eager.splice(0, eager.length, ...eagerly(eager));
          if (index % (100 + every) === 0) expect(keptOf(lazy)).toEqual(eager);
        }
        expect(lazy.length).toBeLessThanOrEqual(640);
        expect(keptOf(lazy)).toEqual(eager);
      }),
      { numRuns: 12 },
    );
  });
});
