// What a meter has to have counted of a silence before what it tells late is believed.
import { describe, expect, it } from "vitest";
import { learn, nothingLearned } from "../../../gateway/src/fills/learned.ts";
import { newDrumWord } from "../../../gateway/src/fills/word/drum-word.ts";
import { leastComeL } from "../../../gateway/src/fills/word/silence-proof.ts";

type Known = Parameters<typeof leastComeL>[1];
type Counted = Parameters<typeof leastComeL>[2];
const nothingCounted = { stop: undefined, meter: undefined, total: undefined, edges: undefined } as Counted;

interface Case {
  /** What its fills brought, L. */
  readonly brought: readonly number[];
  readonly stop: object;
  readonly knownWet: boolean;
  readonly roseL: number | null;
  readonly counted: object;
}
/** A silence from 100 s on, in which the float of a drum of 200 L turned wet. */
function least(given: Partial<Case> = {}): number | null {
  const learned = nothingLearned();
  for (const litres of given.brought ?? [])
    learn(learned, { tripAtL: null, litres, durationMs: 300_000, isPart: false });
  const word = newDrumWord(200);
  word.knownWet = given.knownWet ?? false;
  const stop = { heard: true, wet: true, sinceMs: 200_000, tripsAtL: null, releasesAtL: null, ...given.stop };
  const known = { drum: { volumeL: 200 }, said: { stop }, learned } as unknown as Known;
  const counted = { ...nothingCounted, ...given.counted } as Counted;
  return leastComeL(word, known, counted, { fromMs: 100_000, roseL: given.roseL ?? null });
}

describe("the least that came in a silence", () => {
  it("is most of what fits between release and trip, or of what fills bring; twice where the float tripped twice", () => {
    expect(least({ stop: { tripsAtL: 180, releasesAtL: 160 } })).toBeCloseTo(16, 6);
    expect(least({ brought: [22, 20, 24] })).toBeCloseTo(17.6, 6);
    const edges = { atMs: 150_000, count: 3 };
    expect(least({ brought: [22, 20, 24], counted: { edges } })).toBeCloseTo(35.2, 6);
  });

  it("is not known where the float tripped and nobody knows what that takes: no meter is believed then", () => {
    expect(least()).toBeNull();
    expect(least({ brought: [22, 20] })).toBeNull();
    expect(least({ roseL: 18 })).toBeNull();
  });

  it("is not known where neither float nor level showed that anything came", () => {
    expect(least({ stop: { wet: false } })).toBeNull();
    expect(least({ knownWet: true, stop: { sinceMs: 50_000 } })).toBeNull();
    expect(least({ stop: { wet: false }, roseL: 1 })).toBeNull();
  });

  it("is most of what the level rose where only that showed it", () => {
    expect(least({ stop: { wet: false }, roseL: 20 })).toBeCloseTo(16, 6);
  });
});
