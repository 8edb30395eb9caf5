// A meter at 0 while a drum calls for water: what may have come in all the same, unless a second witness says that none did.
import { describe, expect, it } from "vitest";
import { litresIn, nothing, whole } from "../../../gateway/src/fills/word/book.ts";
import { newDrumWord } from "../../../gateway/src/fills/word/drum-word.ts";
import type { TripKnown } from "../../../gateway/src/fills/word/trip-known.ts";
import { followUnproved, noteUncounted, unprovedL } from "../../../gateway/src/fills/word/unproved.ts";

type Inflow = Parameters<typeof followUnproved>[2]["inflow"];
const still = { flowing: false, basis: "flow-meter" } as Inflow;
const meter = { key: "m", flowing: false, sinceMs: 0, periodMs: 5000 };
const float = (wet: boolean, sinceMs: number) => ({ wet, sinceMs, heard: true, periodMs: 5000 });

/** Up to 4 L/min run into a drum of 200 L; its float turned dry at 100 s. */
const known = (atMs: number, more: object = {}, control = "automatic") =>
  ({
    drum: { volumeL: 200, control },
    said: {
      ...{ atMs, meters: [meter], level: null, inlet: null, person: null, greatestFlowLPerMin: 4 },
      stop: float(false, 100_000),
      ...more,
    },
    learned: undefined,
  }) as unknown as TripKnown;

/** Told each 5 s from the call to a moment, s; the water before the drum is bad from and to a moment. */
function lived(
  toS: number,
  { more = {}, inflow = still, badS = [100, toS] as readonly [number, number] } = {},
) {
  const word = newDrumWord(200);
  word.book = { base: { ...nothing, watchedL: 160, dose: 160 }, since: nothing, isTight: false };
  for (let s = 100; s <= toS; s += 5)
    followUnproved(word, known(s * 1000, more), { inflow, isBad: s >= badS[0] && s < badS[1] });
  return { word, litres: unprovedL(word, known(toS * 1000, more)) };
}

describe("water that may have come past a meter at 0", () => {
  it("is as much as can have come in while bad water stood there", () => {
    expect(lived(400).litres).toBeCloseTo(20, 6);
    expect(lived(400, { badS: [200, 260] }).litres).toBeCloseTo(4, 6);
    expect(lived(400, { badS: [0, 0] }).litres).toBe(0);
  });

  it("is none in the first minute: a meter is seen to count a little after the call", () => {
    expect(lived(155).litres).toBe(0);
    expect(lived(165).litres).toBeGreaterThan(4);
  });

  it("is none where a second witness says so: a level, another meter, a shut valve", () => {
    const level = { flowing: false };
    const other = { ...meter, key: "n" };
    expect(lived(400, { more: { level } }).litres).toBe(0);
    expect(lived(400, { more: { meters: [meter, other] } }).litres).toBe(0);
    expect(lived(400, { more: { inlet: { flowing: false } } }).litres).toBe(0);
    expect(lived(400, { more: { level: { flowing: true } } }).litres).toBeCloseTo(20, 6);
    expect(lived(400, { more: { level: { flowing: null }, inlet: { flowing: true } } }).litres).toBeCloseTo(
      20,
      6,
    );
  });

  it("is none once the meter counts", () => {
    const { word } = lived(400);
    followUnproved(word, known(405_000), { inflow: { ...still, flowing: true }, isBad: true });
    expect(unprovedL(word, known(405_000))).toBe(0);
  });

  it("does not grow in a silence, nor by what comes late; it stays", () => {
    const { word } = lived(400);
    for (const [more, inflow] of [
      [{}, { ...still, flowing: null }],
      [{ lateMs: 1000 }, still],
      [{ stop: { ...float(false, 100_000), heard: false, wet: null } }, still],
    ] as const)
      followUnproved(word, known(700_000, more), { inflow, isBad: true });
    followUnproved(word, known(705_000), { inflow: still, isBad: true });
    expect(unprovedL(word, known(705_000))).toBeCloseTo(20, 6);
  });

  it("stays in the drum unseen where the float trips and no fill was told; no more than fits below it", () => {
    const trips = (at: object, more: object = {}) => {
      const { word } = lived(400);
      followUnproved(word, known(405_000, { stop: { ...float(true, 405_000), ...at }, ...more }), {
        inflow: still,
        isBad: true,
      });
      return whole(word.book);
    };
    expect(trips({}).unwatchedL).toBeCloseTo(20, 6);
    expect(litresIn(trips({}))).toBeCloseTo(160, 6);
    expect(trips({ tripsAtL: 180, releasesAtL: 165 }).unwatchedL).toBeCloseTo(15, 6);
  });

  it("… and where a person ends it: nothing was counted of what they filled in", () => {
    const word = newDrumWord(200);
    word.book = { base: { ...nothing, watchedL: 160, dose: 160 }, since: nothing, isTight: false };
    const says = (s: number, flowing: boolean) =>
      followUnproved(word, known(s * 1000, { person: { flowing, sinceMs: 100_000 } }, "manual"), {
        inflow: still,
        isBad: true,
      });
    for (let s = 100; s <= 400; s += 5) says(s, true);
    says(405, false);
    expect(whole(word.book).unwatchedL).toBeCloseTo(20, 6);
  });

  it("is booked once: with the fill of the call that was told, and no other", () => {
    const after = (told: object) => {
      const { word } = lived(400);
      noteUncounted(word, told as Parameters<typeof noteUncounted>[1]);
      return unprovedL(word, known(400_000));
    };
    expect(after({ flowUnknown: true, endedAtMs: 390_000 })).toBe(0);
    expect(after({ flowUnknown: true, endedAtMs: 90_000 })).toBeCloseTo(20, 6);
    expect(after({ endedAtMs: 390_000 })).toBeCloseTo(20, 6);
  });

  it("begins anew with another call, and with a person's answer", () => {
    const { word } = lived(400);
    const next = { stop: float(false, 500_000) };
    followUnproved(word, known(520_000, next), { inflow: still, isBad: true });
    expect(unprovedL(word, known(520_000, next))).toBe(0);
    const answered = lived(400).word;
    answered.answeredMs = 405_000;
    followUnproved(answered, known(500_000), { inflow: still, isBad: true });
    expect(unprovedL(answered, known(500_000))).toBeCloseTo((4 * 95) / 60, 6);
  });
});
