// For how long a valve stands open in a call, and what a time of day explains: what one call teaches, and what it does not.
import { describe, expect, it } from "vitest";
import { type Learned, nothingLearned } from "../../../gateway/src/fills/learned.ts";
import { learnOpenInCall, mostOpenInCallMs } from "../../../gateway/src/fills/openings.ts";
import { peakAt } from "../../../gateway/src/fills/peaks.ts";

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const noonMs = 20_000 * dayMs + 12 * hourMs;

/** Ten calls of 5 to 6 min in the nights before. */
function taught(learned: Learned): Learned {
  for (let at = 0; at < 10; at += 1)
    learnOpenInCall(learned, {
      openMs: 5 * minuteMs + at * 6000,
      atMs: noonMs - 2 * dayMs - 10 * hourMs + at * 30 * minuteMs,
      hasStood: false,
    });
  return learned;
}

describe("a call in which a clock shut the valve", () => {
  const learned = taught(nothingLearned());
  const [usualMs, nightMs] = [
    mostOpenInCallMs(learned, noonMs),
    mostOpenInCallMs(learned, noonMs + 12 * hourMs),
  ];
  learnOpenInCall(learned, { openMs: 25 * minuteMs, atMs: noonMs, hasStood: true });

  it("explains as much about that time of day, and at no other", () => {
    expect(usualMs).toBeLessThan(10 * minuteMs);
    expect(mostOpenInCallMs(learned, noonMs + dayMs)).toBeGreaterThanOrEqual(25 * minuteMs);
    expect(mostOpenInCallMs(learned, noonMs + 12 * hourMs)).toBe(nightMs);
  });
  it("and one that ran through is usual from then on, at any time", () => {
    learnOpenInCall(learned, { openMs: 25 * minuteMs, atMs: noonMs, hasStood: false });
    expect(mostOpenInCallMs(learned, noonMs + 12 * hourMs)).toBeGreaterThanOrEqual(25 * minuteMs);
  });
});

describe("what was learned before openings in calls were, as it lies in a checkpoint", () => {
  const stored = {
    ...nothingLearned(),
    callsMs: Array<number>(6).fill(6 * minuteMs),
    openingsMs: [30 * minuteMs],
  } as Learned;
  it("tells nothing of them, and five calls later it does", () => {
    const learned = structuredClone(stored);
    expect(mostOpenInCallMs(learned, noonMs)).toBeNull();
    expect(mostOpenInCallMs(taught(learned), noonMs)).toBeGreaterThanOrEqual(5.9 * minuteMs);
    expect(learned.openingsMs).toEqual([30 * minuteMs]);
  });
});

describe("a fill that took more than most", () => {
  const bulk = { most: 30, reach: 0.3 };
  const litresAt = (daysAgo: number) =>
    peakAt([{ atMs: noonMs - daysAgo * dayMs, litres: 100, durationMs: 0 }], noonMs + hourMs, {
      litres: bulk,
      durationMs: { most: 0, reach: 0 },
    }).litres;
  it("explains as much again an hour later, and no more: today is no habit that may reach farther", () => {
    expect(litresAt(0)).toBe(100);
  });
  it("of yesterday is one: today's may reach farther, as the drum's other fills spread", () => {
    expect(litresAt(1)).toBeCloseTo(100 * Math.exp(0.3 * Math.SQRT2), 6);
  });
});
