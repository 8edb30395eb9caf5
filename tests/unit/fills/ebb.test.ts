import { describe, expect, it } from "vitest";
import { ebbs, followEbb } from "../../../gateway/src/fills/guard/ebb.ts";
import type { GuardFacts } from "../../../gateway/src/fills/guard/guard-facts.ts";
import { newGuardState } from "../../../gateway/src/fills/guard/guard-state.ts";

const minuteMs = 60_000;
const periodMs = 15_000;
const noticeableL = 1;

/** At which minutes of a call at night, by a drum's litres in each, it is said to lose water. */
function losesAt(litresAt: (minute: number) => number, minutes: number): number[] {
  const state = newGuardState();
  const found: number[] = [];
  for (let atMs = 0; atMs <= minutes * minuteMs; atMs += periodMs) {
    const facts = {
      drum: { control: "automatic" },
      said: {
        atMs,
        inlet: null,
        level: { litres: litresAt(atMs / minuteMs), noticeableL, periodMs, flowing: null },
        meters: [],
      },
      isNight: () => true,
    } as unknown as GuardFacts;
    followEbb(state, facts, true);
    if (ebbs(state, facts, null)) found.push(Math.floor(atMs / minuteMs));
  }
  return [...new Set(found)];
}
/** A level's noise that repeats itself, up to 0.45 L either way, less than is noticed. */
const noise = (minute: number) => ((Math.round(minute * 4) * 7) % 19) / 20 - 0.45;

describe("a level that only falls while its drum calls", () => {
  it("1 L/min is lost: known from the time on that usual draws take at most", () => {
    const [first] = losesAt((minute) => 150 - minute + noise(minute), 20);
    expect(first).toBeGreaterThanOrEqual(10);
    expect(first).toBeLessThanOrEqual(12);
  });

  it("one that sags by little more than its noise while slow water comes loses nothing", () => {
    expect(losesAt((minute) => 150 - Math.min(minute / 8, 1.5) + noise(minute), 300)).toEqual([]);
  });

  it("a bucket drawn before slow water shows falls no further", () => {
    const drawn = (minute: number) => 150 - (minute > 2 ? 9 : 0) + minute / 100 + noise(minute);
    expect(losesAt(drawn, 90)).toEqual([]);
  });
});
