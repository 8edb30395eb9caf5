// What past trips and calls teach the guard; each expectation was written down before the first run.
import { describe, expect, it } from "vitest";
import { emptyCallMs } from "../../../gateway/src/fills/empty-call.ts";
import {
  extentOf,
  forgetTrips,
  learn,
  learnCall,
  longestCallMs,
  nothingLearned,
  peaksAt,
  takeSaidTrip,
} from "../../../gateway/src/fills/learned.ts";
import { tripBoundL } from "../../../gateway/src/fills/trip-bound.ts";
import { createRandom } from "../../../gateway/src/simulator/index.ts";

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
  it("close under the brim it is allowed no more than reaches the brim, be it seen once; at the brim itself what it is elsewhere", () => {
    const learned = nothingLearned();
    forgetTrips(learned, 195);
    expect(tripBoundL(learned, null, 200)).toEqual({ tripL: 195, toleranceL: 3 });
    forgetTrips(learned, 197);
    expect(tripBoundL(learned, null, 200)?.toleranceL).toBeCloseTo(1.8, 6);
    tripAt(learned, 197);
    expect(tripBoundL(learned, null, 200)?.toleranceL).toBe(8);
    expect(tripBoundL(nothingLearned(), 205, 200)).toEqual({ tripL: 205, toleranceL: 8 });
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

describe("what is usual at a time of day", () => {
  const hourMs = 3_600_000;
  const dayMs = 24 * hourMs;
  /** Thirty calls of 5 min a day, and one of 25 min at noon, for so many days. */
  const busy = (days: number) => {
    const learned = nothingLearned();
    for (let day = 0; day < days; day += 1)
      for (let half = 14; half < 44; half += 1) {
        const atMs = day * dayMs + (half * hourMs) / 2;
        const ms = (half === 24 ? 25 : 5) * 60_000;
        learnCall(learned, ms, atMs);
        learn(learned, { tripAtL: null, litres: (4 * ms) / 60_000, durationMs: ms, atMs });
      }
    return learned;
  };
  it("the noon's long fill explains the next one at noon, and none at night", () => {
    const learned = busy(3);
    expect(longestCallMs(learned)).toBe(5 * 60_000);
    expect(peaksAt(learned, 3 * dayMs + 12.5 * hourMs)).toEqual({
      litres: 100,
      durationMs: 25 * 60_000,
      callMs: 25 * 60_000,
    });
    expect(peaksAt(learned, 3 * dayMs + 3 * hourMs).callMs).toBe(0);
  });
  it("midnight is one time of day, from either side", () => {
    const learned = nothingLearned();
    for (let call = 0; call < 6; call += 1) learnCall(learned, 300_000, call * hourMs);
    learnCall(learned, 900_000, dayMs - hourMs / 2);
    expect(peaksAt(learned, 2 * dayMs + hourMs).callMs).toBe(900_000);
    learnCall(learned, 1_200_000, 2 * dayMs + hourMs / 2);
    expect(peaksAt(learned, 2 * dayMs + 23 * hourMs).callMs).toBe(1_200_000);
  });
  it("one that hung once explains the two days after it and that weekday, and no other; what came on two days is a habit", () => {
    const learned = nothingLearned();
    const noon = (day: number) => day * dayMs + 12 * hourMs;
    const hung = (day: number, minutes: number) => learnCall(learned, minutes * 60_000, noon(day));
    for (let call = 0; call < 6; call += 1) learnCall(learned, 300_000, call * hourMs);
    hung(0, 25);
    const explains = (day: number) => peaksAt(learned, noon(day)).callMs / 60_000;
    expect([1, 2, 3, 4, 6, 7, 8, 14, 15].map(explains)).toEqual([25, 25, 0, 0, 0, 25, 0, 25, 0]);
    for (let call = 0; call < 20; call += 1) learnCall(learned, 300_000, dayMs + call * hourMs);
    hung(4, 15);
    expect([5, 7, 8].map(explains)).toEqual([15, 25, 15]);
  });
  it("three noons of 85, 68 and 61 L explain one of 92 L, which is over 1.25 times what they reached; they explain nothing at night", () => {
    const learned = nothingLearned();
    // As fills come: some 23 L, 8 % either way, six a day; the noon's are remembered though the first day's was greater.
    const others = [21.3, 24.1, 21.7, 24.5, 22.1, 22.3, 22.4, 26.7];
    for (let day = 0; day < 3; day += 1)
      for (let n = 0; n < 7; n += 1) {
        const atMs = day * dayMs + (6 + 2 * n) * hourMs;
        const litres = n === 3 ? ([84.7, 68.3, 60.7][day] as number) : (others[(3 * day + n) % 8] as number);
        learn(learned, { tripAtL: null, litres, durationMs: litres * 15_000, atMs });
      }
    const { litres } = peaksAt(learned, 3 * dayMs + 12.2 * hourMs);
    expect(1.25 * litres).toBeGreaterThan(92);
    expect(1.25 * litres).toBeLessThan(120);
    expect(peaksAt(learned, 3 * dayMs + 2 * hourMs).litres).toBe(0);
  });
  it("a float that hung once widens no habit", () => {
    const noons = (...litres: number[]) => {
      const learned = nothingLearned();
      for (const [day, noonL] of litres.entries())
        for (let n = 0; n < 7; n += 1) {
          const atMs = day * dayMs + (6 + 2 * n) * hourMs;
          const l = n === 3 ? noonL : 22 + (n % 3);
          learn(learned, { tripAtL: null, litres: l, durationMs: l * 15_000, atMs });
        }
      return peaksAt(learned, litres.length * dayMs + 12.2 * hourMs).litres;
    };
    expect(noons(80, 200, 80, 80, 80)).toBeLessThan(1.15 * 80);
  });
  it("after 14 days it is forgotten, and few are kept", () => {
    const learned = busy(40);
    expect(learned.callPeaks?.length).toBeLessThanOrEqual(15);
    expect(peaksAt(learned, 60 * dayMs + 12 * hourMs).callMs).toBe(0);
  });
});

describe("litres that are put together, of a meter that two drums share", () => {
  it("are a habit at their time of day, and never what is usual", () => {
    const dayMs = 86_400_000;
    const noonMs = 20_000 * dayMs;
    const learned = nothingLearned();
    learn(learned, { tripAtL: null, litres: null, roughL: 98, durationMs: 1_800_000, atMs: noonMs });
    expect(peaksAt(learned, noonMs + dayMs)).toEqual({ litres: 98, durationMs: 1_800_000, callMs: 0 });
    expect(peaksAt(learned, noonMs + dayMs / 2).litres).toBe(0);
    for (let n = 1; n <= 6; n += 1)
      learn(learned, { tripAtL: null, litres: 20, durationMs: 300_000, atMs: noonMs + n * 9_000_000 });
    expect(extentOf(learned)?.litres).toBe(20);
  });
});

describe("how long a call takes in which nothing else is drawn", () => {
  // 20 L at 4 L/min are 300 s. Each litre that a bucket takes past the release makes a call 15 s longer; a bucket is met by
  // the release with a chance that goes with its size, at any of its litres.
  const emptyS = (calls: number, seed: number, bucketL: (random: () => number) => number) => {
    const random = createRandom(seed);
    const learned = nothingLearned();
    while ((learned.bareMs?.length ?? 0) < calls) {
      const litres = bucketL(random);
      if (random() > litres / 12) continue;
      const seenS = 15 * (random() - random());
      learnCall(learned, (300 + 15 * litres * random() + seenS) * 1000);
    }
    return (emptyCallMs(learned) ?? Number.NaN) / 1000;
  };
  const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;
  const seeds = Array.from({ length: 20 }, (_, index) => index + 1);
  it.each([
    ["4 to 9 L", (random: () => number) => 4 + 5 * random()],
    ["12 L", () => 12],
    ["2 L or 10 L", (random: () => number) => (random() < 0.5 ? 2 : 10)],
  ])("is told from 60 calls after buckets of %s, within 5 %%", (_says, bucketL) => {
    expect(Math.abs(mean(seeds.map((seed) => emptyS(60, seed, bucketL))) / 300 - 1)).toBeLessThan(0.05);
  });
  it("is never less than the shortest allows: after two small draws all others were large", () => {
    const learned = { ...nothingLearned(), callsMs: [300, 300, ...Array(9).fill(900)].map((s) => s * 1000) };
    expect(emptyCallMs(learned)).toBe(0.8 * 300_000);
  });
  it("is not known before three calls", () => expect(emptyCallMs(nothingLearned())).toBeNull());
});
