// A meter that tells late of a silence: what was poured unseen for it goes only where each litre is in a fill that was told.
import { describe, expect, it } from "vitest";
import { litresIn, nothing, pourUnseen, whole } from "../../../gateway/src/fills/word/book.ts";
import { newDrumWord } from "../../../gateway/src/fills/word/drum-word.ts";
import { coverHidden, noteHidden, noteTold } from "../../../gateway/src/fills/word/hidden-span.ts";

type Said = Parameters<typeof coverHidden>[1];
type Told = Parameters<typeof noteTold>[1];
const volumeL = 200;
const meterSaid = (lastMs: number, totalL: number, isShared = false) =>
  ({
    lateMs: lastMs,
    meters: [{ key: "m", lastMs, totalL, periodMs: 5000, isShared }],
  }) as unknown as Said;
const fill = (startedAtMs: number, endedAtMs: number | null) => ({ startedAtMs, endedAtMs }) as Told;

/** 160 L of watched water of 1 uS/cm, and 20 L poured unseen for the silence from 100 s to 400 s. */
function drum(isShared = false, leastL: number | null = 16) {
  const word = newDrumWord(volumeL);
  word.book = { base: { ...nothing, watchedL: 160, dose: 160 }, since: nothing, isTight: false };
  const span = { fromMs: 100_000, toMs: 400_000, leastL };
  const name = noteHidden(word, meterSaid(50_000, 0, isShared), span, { pouredL: 20, gainL: 15 });
  word.book = pourUnseen(word.book, 20, 15, name);
  return word;
}

/** The meter tells each 5 s, and counts `perL` from 120 s to 380 s. */
function lived(
  word: ReturnType<typeof drum>,
  { perL = 0.4, running = () => null, isShared = false }: Partial<Living> = {},
) {
  let totalL = 0;
  for (let ms = 55_000; ms <= 420_000; ms += 5000) {
    totalL += ms > 120_000 && ms <= 380_000 ? perL : 0;
    coverHidden(word, meterSaid(ms, totalL, isShared), { running: running(ms), volumeL });
  }
  return whole(word.book);
}
interface Living {
  readonly perL: number;
  readonly running: (ms: number) => Told | null;
  readonly isShared: boolean;
}

describe("what a silence let count as unseen", () => {
  it("goes where a fill was told for all that the meter counted; what was there before is there again", () => {
    const parts = lived(drum(), { running: (ms) => (ms >= 120_000 ? fill(120_000, null) : null) });
    expect(parts.unwatchedL).toBeCloseTo(0, 6);
    expect(litresIn(parts)).toBeCloseTo(160, 6);
    expect(parts.dose).toBeCloseTo(160, 6);
  });

  it("goes where the fill that holds it was told by another witness before", () => {
    const word = drum();
    noteTold(word, fill(118_000, 383_000));
    expect(lived(word).unwatchedL).toBeCloseTo(0, 6);
  });

  it("stays where no fill was told for what the meter counted", () => {
    expect(lived(drum()).unwatchedL).toBeCloseTo(20, 6);
  });

  it("stays where the fill that was told began after it, or ended before", () => {
    for (const [fromMs, toMs] of [
      [300_000, 390_000],
      [110_000, 200_000],
    ] as const) {
      const word = drum();
      noteTold(word, fill(fromMs, toMs));
      expect(lived(word).unwatchedL).toBeCloseTo(20, 6);
    }
  });

  it("stays where the meter counted less than the float showed", () => {
    const half = { perL: 0.2, running: () => fill(110_000, null) };
    expect(lived(drum(), half).unwatchedL).toBeCloseTo(20, 6);
  });

  it("stays where nobody else saw any of it, and where the meter counted nothing", () => {
    const told = () => fill(110_000, null);
    expect(lived(drum(false, null), { running: told }).unwatchedL).toBeCloseTo(20, 6);
    expect(lived(drum(false, 0), { running: told, perL: 0 }).unwatchedL).toBeCloseTo(20, 6);
  });

  it("stays behind a meter that serves other drums too", () => {
    const shared = { running: () => fill(110_000, null), isShared: true };
    expect(lived(drum(true), shared).unwatchedL).toBeCloseTo(20, 6);
  });
});
