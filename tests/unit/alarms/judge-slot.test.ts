import fc from "fast-check";
import { expect, it } from "vitest";
import type { Look, Verdict } from "../../../gateway/src/alarms/condition.ts";
import { judgeSlot } from "../../../gateway/src/alarms/judge-slot.ts";
import type { Slot } from "../../../gateway/src/alarms/slot.ts";
import { nothingCounted } from "../../../gateway/src/alarms/tally.ts";

interface Moment {
  readonly verdict: Verdict;
  readonly isGated: boolean;
  readonly stepMs: number;
}

const mostly = <Value>(usual: Value, ...others: readonly Value[]) => fc.constantFrom(usual, usual, ...others);
const moment: fc.Arbitrary<Moment> = fc
  .record({
    is: mostly<Verdict["is"]>(false, true, "unknown"),
    beyond: fc.constantFrom(-5, -0.5),
    gross: mostly<boolean | undefined>(false, true, undefined),
    agoMs: mostly<number | undefined>(0, 3000, undefined),
    litres: mostly<number | undefined>(undefined, 1, 4, 9),
    fill: mostly<string | undefined>(undefined, "a", "b"),
    againInMs: mostly<number | undefined>(undefined, -1, 700),
    isGated: mostly(false, true),
    stepMs: fc.constantFrom(0, 1000, 5000, 120_000),
  })
  .map(({ is, beyond, gross, agoMs, litres, fill, againInMs, isGated, stepMs }) => ({
    isGated,
    stepMs,
    // Times are counted from the moment at which it is judged.
    verdict: {
      is,
      value: 1,
      limit: 1,
      beyond,
      gross,
      tMs: agoMs,
      litres,
      fill,
      againAtMs: againInMs,
    } as Verdict,
  }));

/** Most of what is so goes on for a while. */
const lasting = fc
  .tuple(moment, fc.integer({ min: 1, max: 6 }))
  .map(([one, times]) => new Array<Moment>(times).fill(one));

const delays = [
  { judgedMs: 6000, readings: 2 },
  { elapsedMs: 6000 },
  { litres: 5 },
  { fills: 2 },
  [{ readings: 4 }, { elapsedMs: 20_000 }],
  {},
];
const limits = fc.record({
  on: fc.constantFrom(...delays),
  off: fc.constantFrom(...delays),
  gross: fc.constantFrom(...delays, undefined),
  passes: fc.boolean(),
});

/** A slot as the engine has it, and the same one that is never calm: what it counted is a copy each time. */
function lifeOf(
  moments: readonly Moment[],
  { on, off, gross, passes }: typeof limits extends fc.Arbitrary<infer One> ? One : never,
) {
  let now: Moment = moments[0] as Moment;
  let nowMs = 1_000_000;
  const verdictNow = (): Verdict => {
    const { tMs, againAtMs } = now.verdict;
    return {
      ...now.verdict,
      ...(tMs === undefined ? {} : { tMs: nowMs - tMs }),
      ...(againAtMs == null ? {} : { againAtMs: nowMs + againAtMs }),
    };
  };
  const row = {
    judge: verdictNow,
    gate: () => (now.isGated ? "no-flow" : null),
    grossPasses: passes ? ["no-flow"] : undefined,
    on: () => on,
    off: () => off,
    gross: gross && (() => gross),
    deadband: () => 1,
  };
  const slotOf = () => ({ row, limits: {}, tally: nothingCounted, kept: null }) as unknown as Slot;
  const [quick, whole] = [slotOf(), slotOf()];
  let turns = 0;
  for (const one of moments) {
    now = one;
    nowMs += one.stepMs;
    const look = { nowMs } as Look<unknown, unknown>;
    const before = structuredClone(quick.tally);
    whole.tally = structuredClone(whole.tally);
    const { isCounted, ...said } = judgeSlot(quick, look);
    const { isCounted: _, ...plain } = judgeSlot(whole, look);
    expect(said).toEqual(plain);
    expect(quick.tally).toEqual(whole.tally);
    // What changed is kept in the checkpoint.
    if (!isCounted) expect(quick.tally).toEqual(before);
    if (said.turn !== null) {
      turns += 1;
      const kept = said.turn === "clear" ? null : ({ core: { active: true } } as Slot["kept"]);
      quick.kept = kept;
      whole.kept = kept;
    }
  }
  return turns;
}

it("where nothing begins, a slot counts and says what the whole way would", () => {
  let turns = 0;
  fc.assert(
    fc.property(fc.array(lasting, { minLength: 1, maxLength: 16, size: "max" }), limits, (moments, waits) => {
      turns += lifeOf(moments.flat(), waits);
    }),
    { numRuns: 150 },
  );
  expect(turns).toBeGreaterThan(40);
  // That one is everybody's.
  expect(nothingCounted).toEqual({
    on: { judgedMs: 0, readings: 0, litres: 0, fills: 0, elapsedMs: 0, sinceMs: null },
    gross: nothingCounted.on,
    off: nothingCounted.on,
    last: { zone: "unknown", isGross: false },
    tMs: null,
    litres: null,
    fill: null,
  });
});
