// A fill that a level alone saw, its probe and its meter silent: what the probe's node had kept tells of no more of it than
// ran past the meter.
import { describe, expect, it } from "vitest";
import { nothing, whole } from "../../../gateway/src/fills/word/book.ts";
import { newDrumWord } from "../../../gateway/src/fills/word/drum-word.ts";
import { followCounted, noteUnseen, takeSeenLate } from "../../../gateway/src/fills/word/seen-late.ts";

type Fill = Parameters<typeof noteUnseen>[1];
type Said = Parameters<typeof noteUnseen>[2];
const fill = (known: number, more: object = {}) =>
  ({
    ...{ id: "tub@1", startedAtMs: 200_000, endedAtMs: 500_000, litres: 20, basis: "level" },
    ...{ known, watched: known, dose25: known > 0 ? 1 : null },
    ...more,
  }) as unknown as Fill;
const said = (lastMs: number, totalL: number, more: object = {}) =>
  ({
    ...{ lateMs: lastMs },
    meters: [{ key: "m", flowing: null, isShared: false, periodMs: 5000, lastMs, totalL, ...more }],
  }) as unknown as Said;

/** 20 L that nobody watched are in it, of a fill that was told while its meter was silent. */
function drum(more: object = {}, told: object = {}) {
  const word = newDrumWord(200);
  const parts = { ...nothing, watchedL: 160, dose: 160, unwatchedL: 20, byFill: { "tub@1": 20 } };
  word.book = { base: parts, since: nothing, isTight: false };
  noteUnseen(word, fill(0, told), said(100_000, 50, more));
  return word;
}
const unseenOf = (word: ReturnType<typeof drum>) => whole(word.book).unwatchedL;

describe("what is seen late of a fill", () => {
  it("waits for the meter, and is all of it where that counted all", () => {
    const word = drum();
    expect(takeSeenLate(word, fill(1))).toBe(true);
    expect(unseenOf(word)).toBeCloseTo(20, 6);
    followCounted(word, said(400_000, 65));
    expect(unseenOf(word)).toBeCloseTo(20, 6);
    followCounted(word, said(600_000, 70));
    expect(unseenOf(word)).toBeCloseTo(0, 6);
  });

  it("is as much as the meter counted, where that is less than one that is off counts", () => {
    const word = drum();
    followCounted(word, said(600_000, 60));
    takeSeenLate(word, fill(1));
    expect(unseenOf(word)).toBeCloseTo(10, 6);
    const off = drum();
    followCounted(off, said(600_000, 67));
    takeSeenLate(off, fill(1));
    expect(unseenOf(off)).toBeCloseTo(0, 6);
  });

  it("waits for none that others share, that was heard meanwhile, or beside which another witness counted", () => {
    const ways: [object, object][] = [
      [{ isShared: true }, {}],
      [{ flowing: false }, {}],
      [{ lastMs: 300_000 }, {}],
      [{}, { basis: "flow-meter" }],
    ];
    for (const [meter, told] of ways) {
      const word = drum(meter, told);
      takeSeenLate(word, fill(1, told));
      expect(unseenOf(word)).toBeCloseTo(0, 6);
    }
  });
});
