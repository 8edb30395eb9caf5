import { describe, expect, it } from "vitest";
import type { DrumWitnesses } from "../../../gateway/src/fills/drum-witnesses.ts";
import type { GuardFacts } from "../../../gateway/src/fills/guard/guard-facts.ts";
import { newGuardState } from "../../../gateway/src/fills/guard/guard-state.ts";
import { longFill } from "../../../gateway/src/fills/guard/long-fill.ts";
import { learn, learnCall, nothingLearned } from "../../../gateway/src/fills/learned.ts";
import type { Drum } from "../../../gateway/src/line/index.ts";

const minuteMs = 60_000;
const nowMs = Date.UTC(2026, 2, 3, 12);

/** A float alone stops 200 L behind a membrane of 0.75 L/min at most; 20 L fit between release and trip. */
function callOf(minutes: number, fillsMinutes: readonly number[]): GuardFacts {
  const learned = nothingLearned();
  for (const each of fillsMinutes) {
    learnCall(learned, each * minuteMs, nowMs);
    learn(learned, { tripAtL: 180, litres: 20, durationMs: each * minuteMs, atMs: nowMs });
  }
  const said: DrumWitnesses = {
    drum: "mix",
    atMs: nowMs,
    meters: [],
    level: null,
    inlet: null,
    pump: null,
    stop: null,
    overflow: null,
    person: null,
    others: [],
    heardMs: nowMs,
    greatestFlowLPerMin: 0.75,
    restsSinceTrip: false,
    runsOver: false,
  };
  return {
    drum: { id: "mix", volumeL: 200, control: "automatic" } as Drum,
    said,
    learned,
    graceMs: 10 * minuteMs,
    fill: null,
    overflowProvedUntilMs: null,
    isNight: () => false,
    hadFill: true,
    isEmptied: false,
    isAwaiting: false,
    callSinceMs: nowMs - minutes * minuteMs,
  };
}

describe("a float alone behind a membrane, few fills known", () => {
  const isLong = (minutes: number, fills: readonly number[]) =>
    longFill(newGuardState(), callOf(minutes, fills), false) !== null;

  it("one fill of 54 min allows no more than what 200 L take at the greatest flow, and half", () => {
    expect(isLong(399, [54])).toBe(false);
    expect(isLong(401, [54])).toBe(true);
  });

  it("one of 150 min allows three times as long as it took", () => {
    expect(isLong(449, [150])).toBe(false);
    expect(isLong(451, [150])).toBe(true);
  });
});

describe("a metered fill, few fills known", () => {
  /** Whether so many litres are long after so many fills of so many; the float releases at 160 of 200 L. */
  function isLong(litres: number, known: number, eachL: number): boolean {
    const facts = callOf(7, []);
    for (let fills = 0; fills < known; fills += 1) {
      learnCall(facts.learned, 5 * minuteMs, nowMs);
      learn(facts.learned, { tripAtL: 180, litres: eachL, durationMs: 5 * minuteMs, atMs: nowMs });
    }
    const startedAtMs = nowMs - 7 * minuteMs;
    const fill = { startedAtMs, meterL: litres, levelL: null, contentsL: null, drawnL: 0, hasStood: false };
    const stop = { releasesAtL: 160, tripsAtL: 180 } as DrumWitnesses["stop"];
    return longFill(newGuardState(), { ...facts, fill, said: { ...facts.said, stop } }, true) !== null;
  }

  it("a bucket drawn in the midst of the sixth is no long fill", () => {
    expect(isLong(33, 5, 21)).toBe(false);
    expect(isLong(34, 5, 21)).toBe(true);
  });

  it("it is one once eight are known", () => {
    expect(isLong(33, 7, 21)).toBe(false);
    expect(isLong(33, 8, 21)).toBe(true);
  });

  it("no more is allowed than fits under the brim", () => {
    expect(isLong(37.9, 5, 30)).toBe(false);
    expect(isLong(38.1, 5, 30)).toBe(true);
  });
});
