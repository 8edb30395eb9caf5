// What the trip of a whole call shows to have come in beside a meter that counted less than any fill before.
import { describe, expect, it } from "vitest";
import { learn, leastWholeL, nothingLearned } from "../../../gateway/src/fills/learned.ts";
import { markMissed, noteCalled } from "../../../gateway/src/fills/record/missed-litres.ts";
import type { OpenFill } from "../../../gateway/src/fills/record/open-fill.ts";

type Following = Parameters<typeof noteCalled>[0];
type Call = Parameters<typeof noteCalled>[1];
const minMs = 60_000;

function taught(litres: readonly number[], isPart = false) {
  const learned = nothingLearned();
  for (const one of litres) learn(learned, { tripAtL: null, litres: one, durationMs: 5 * minMs, isPart });
  return learned;
}

interface Case {
  readonly learned: ReturnType<typeof taught>;
  readonly totalL: number;
  readonly call: object;
  readonly open: object;
  readonly said: object;
  readonly spanL: number | null;
}
/** Five fills of 22 L and more; of this call the meter, at 100 L when it began, has counted 12 L. */
function missed(given: Partial<Case> = {}) {
  const { learned = taught([22, 24, 30, 23, 22]), totalL = 112, spanL = null } = given;
  const meter = { key: "m", isShared: false, totalL };
  const open = { basis: "flow-meter", meter: { key: "m" }, flowUnknown: false, ...given.open };
  const said = { meters: [meter], level: null, ...given.said };
  const of = { record: { open, learned }, said } as unknown as Following;
  noteCalled(of, { isWhole: true, meterL: 100, ...given.call } as unknown as Call, spanL);
  markMissed(of, open as unknown as OpenFill);
  return (open as Partial<OpenFill>).missedL ?? null;
}

describe("what came in beside the meter", () => {
  it("is what is left of the least that any fill has brought", () => {
    expect(missed()).toBeCloseTo(10, 6);
    expect(missed({ totalL: 118 })).toBeNull();
    expect(missed({ spanL: 20 })).toBeCloseTo(8, 6);
    expect(missed({ spanL: 14 })).toBeNull();
  });

  it("is not what came in a silence and stands in the fill already", () => {
    expect(missed({ open: { unheardL: 4 } })).toBeCloseTo(6, 6);
    expect(missed({ open: { unheardL: 6 } })).toBeNull();
  });

  it("is not known before five whole fills", () => {
    expect(missed({ learned: taught([22, 24, 30, 23]) })).toBeNull();
    expect(leastWholeL(taught([22, 24, 30, 23]), 3)).toBe(22);
    expect(leastWholeL(taught([9, 9, 9], true), 1)).toBeNull();
  });

  it("is nothing where the call is not whole, the fill contradicted, a level tells, or the meter is another's too", () => {
    const ways: Partial<Case>[] = [
      { call: { isWhole: false } },
      { call: { meterL: null } },
      { open: { flowUnknown: true } },
      { open: { basis: "calling-float" } },
      { open: { meter: { key: "n" } } },
      { said: { level: {} } },
      { said: { meters: [{ key: "m", isShared: true, totalL: 112 }] } },
    ];
    for (const way of ways) expect(missed(way), JSON.stringify(way)).toBeNull();
  });
});
