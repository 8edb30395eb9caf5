// What a fill brings into a drum's book, and what of it a probe that tells late may still have seen.
import { describe, expect, it } from "vitest";
import type { Fill } from "../../../gateway/src/fills/fill.ts";
import { nothing, seeLate, whole } from "../../../gateway/src/fills/word/book.ts";
import { countFill } from "../../../gateway/src/fills/word/count-fill.ts";
import { newDrumWord } from "../../../gateway/src/fills/word/drum-word.ts";
import type { TripKnown } from "../../../gateway/src/fills/word/trip-known.ts";

const known = (more: object = {}) =>
  ({
    drum: { volumeL: 200, control: "automatic" },
    said: { stop: null, level: null, meters: [], greatestFlowLPerMin: 6, ...more },
    learned: undefined,
    band25: 10,
  }) as unknown as TripKnown;
const fillOf = (more: Partial<Fill>): Fill =>
  ({
    ...{ kind: "fill", id: "d@1", drum: "d", startedAtMs: 0, endedAtMs: 300_000, basis: "flow-meter" },
    ...{ litres: 12, watched: 0.5, known: 0.5, dose25: 2, end: "float-tripped", tripConfirmed: true },
    ...more,
  }) as Fill;

/** 150 L of watched water of 1 uS/cm, and a fill. */
function counted(more: Partial<Fill>, of = known()) {
  const word = newDrumWord(200);
  word.book = { base: { ...nothing, watchedL: 150, dose: 150 }, since: nothing, isTight: false };
  countFill(word, fillOf(more), of);
  return word;
}

describe("a fill of 12 L of which half was seen, and 10 L that came beside the meter", () => {
  const word = counted({ missedL: 10 });

  it("leaves 16 L unwatched", () => {
    expect(whole(word.book).unwatchedL).toBeCloseTo(16, 6);
    expect(whole(word.book).watchedL).toBeCloseTo(156, 6);
  });

  it("its probe, which tells late, has seen 6 of them: what came beside the meter ran past no probe", () => {
    expect(whole(word.book).byFill).toEqual({ "d@1": 6 });
    const late = whole(seeLate(word.book, "d@1", { share: 1, kappa25: 2 }));
    expect(late.unwatchedL).toBeCloseTo(10, 6);
  });
});

describe("a fill of 5 min whose litres nobody knows, seen throughout", () => {
  const unmeasured = { litres: null, basis: "calling-float", watched: 1, known: 1 } as const;

  it("dilutes nothing where it was good", () => {
    expect(whole(counted({ ...unmeasured, dose25: 9 }).book)).toMatchObject({ watchedL: 150, unwatchedL: 0 });
  });

  it("may have brought all that the greatest flow brings where it was over the band: 6 L/min, 30 L", () => {
    expect(whole(counted({ ...unmeasured, dose25: 11 }).book).unwatchedL).toBeCloseTo(30, 6);
  });

  it("brings no more than fits between release and trip", () => {
    const stop = { heard: true, wet: true, tripsAtL: 180, releasesAtL: 160 };
    const of = { ...known({ stop }), learned: undefined };
    const word = counted({ ...unmeasured, dose25: 11, end: "inflow-stopped" }, of);
    expect(whole(word.book).unwatchedL).toBeCloseTo(20, 6);
  });
});
