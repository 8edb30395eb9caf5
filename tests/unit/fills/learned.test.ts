// What past trips and calls teach the guard; each expectation was written down before the first run.
import { describe, expect, it } from "vitest";
import {
  forgetTrips,
  learn,
  learnCall,
  longestCallMs,
  nothingLearned,
  takeSaidTrip,
  tripBoundL,
} from "../../../gateway/src/fills/learned.ts";

const tripAt = (learned: ReturnType<typeof nothingLearned>, ...litres: number[]) => {
  for (const l of litres) learn(learned, { tripAtL: l, litres: 20, durationMs: 300_000 });
};

describe("where the float trips", () => {
  it("before five trips as the line says, 4 % of the drum either way", () => {
    const learned = nothingLearned();
    tripAt(learned, 184, 184);
    expect(tripBoundL(learned, 180, 200)).toEqual({ tripL: 180, toleranceL: 8 });
  });
  it("after five as it did then, 2 % either way, however it slips later", () => {
    const learned = nothingLearned();
    tripAt(learned, 180, 180, 180, 180, 180, 180, 180, 180, 180, 180);
    tripAt(learned, 184, 188, 192, 196, 200, 200, 200, 200);
    expect(tripBoundL(learned, 180, 200)).toEqual({ tripL: 180, toleranceL: 4 });
  });
  it("a float that was moved takes its new trip at once", () => {
    const learned = nothingLearned();
    tripAt(learned, 180, 180, 180, 180, 180);
    forgetTrips(learned, 170);
    expect(tripBoundL(learned, 180, 200)).toEqual({ tripL: 170, toleranceL: 8 });
  });
  it("one that failed must be proved anew: the line's word counts until then", () => {
    const learned = nothingLearned();
    tripAt(learned, 176, 176, 176, 176, 176);
    forgetTrips(learned, null);
    expect(tripBoundL(learned, 180, 200)?.tripL).toBe(180);
  });
  it("another figure in the line file makes the learned trips void, the same one does not", () => {
    const learned = nothingLearned();
    takeSaidTrip(learned, 180);
    tripAt(learned, 182, 182, 182, 182, 182);
    takeSaidTrip(learned, 180);
    expect(tripBoundL(learned, 180, 200)?.tripL).toBe(182);
    takeSaidTrip(learned, 170);
    expect(tripBoundL(learned, 170, 200)?.tripL).toBe(170);
  });
});

describe("how long calls take", () => {
  it("is told after five, by the longest of less than 20", () => {
    const learned = nothingLearned();
    for (const minutes of [5, 5, 6, 5]) learnCall(learned, minutes * 60_000);
    expect(longestCallMs(learned)).toBeNull();
    learnCall(learned, 20 * 60_000);
    expect(longestCallMs(learned)).toBe(20 * 60_000);
  });
  it("chatter and top-ups of less than 30 % teach nothing", () => {
    const learned = nothingLearned();
    for (const seconds of [300, 300, 300, 5, 60, 300, 300]) learnCall(learned, seconds * 1000);
    expect(learned.callsMs).toEqual([300, 300, 300, 300, 300].map((s) => s * 1000));
  });
});
