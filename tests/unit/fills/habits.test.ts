// A habit of some time of day explains a long fill; what wakes for a failed stop knows no habits.
import { describe, expect, it } from "vitest";
import type { DrumWitnesses } from "../../../gateway/src/fills/drum-witnesses.ts";
import { followGuard } from "../../../gateway/src/fills/guard/follow-guard.ts";
import type { GuardFacts } from "../../../gateway/src/fills/guard/guard-facts.ts";
import { newGuardState } from "../../../gateway/src/fills/guard/guard-state.ts";
import { type Learned, learn, learnCall, nothingLearned } from "../../../gateway/src/fills/learned.ts";

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const minuteMs = 60_000;
const noonMs = 20_000 * dayMs + 12 * hourMs;
const flowLPerMin = 4;

/** Fills of 20 L each hour for three days; those of noon, which is habit, of 100 L. */
function taught(noonL: number): Learned {
  const learned = nothingLearned();
  for (let hour = 72; hour > 0; hour -= 1) {
    const atMs = noonMs - hour * hourMs;
    const litres = hour % 24 === 0 ? noonL : 20;
    const durationMs = (litres / flowLPerMin) * minuteMs;
    learnCall(learned, durationMs, atMs);
    learn(learned, { tripAtL: 180, litres, durationMs, atMs });
  }
  return learned;
}

function saidAt(atMs: number, litres: number, level: DrumWitnesses["level"]): DrumWitnesses {
  return {
    drum: "mix",
    atMs,
    meters: [
      {
        key: "resin",
        flowing: true,
        sinceMs: noonMs,
        flowLPerMin,
        totalL: litres,
        stillL: 0,
        bridgedL: 0,
        lastBridgedMs: 0,
        lastMs: atMs,
        periodMs: 10_000,
        zeroSinceMs: null,
        steadyLPerMin: flowLPerMin,
        isShared: false,
        hasTaps: false,
      },
    ],
    level,
    inlet: null,
    pump: null,
    stop: {
      wet: false,
      sinceMs: noonMs,
      heard: true,
      lastMs: atMs,
      periodMs: 10_000,
      wetTwice: false,
      chatters: false,
      edgeInSilence: null,
      tripsAtL: 180,
      releasesAtL: 160,
    },
    overflow: null,
    person: null,
    restsSinceTrip: false,
    runsOver: false,
    others: [],
    heardMs: atMs,
    greatestFlowLPerMin: flowLPerMin,
  };
}

function levelAt(atMs: number, litres: number): DrumWitnesses["level"] {
  return {
    flowing: true,
    sinceMs: noonMs,
    flowLPerMin,
    litres: 160 + litres,
    saltL: 0,
    lastL: 160 + litres,
    readMs: atMs,
    lastMs: atMs,
    inflowL: litres,
    stillL: 0,
    drawnL: 0,
    fallingL: 0,
    handL: 0,
    guessedL: 0,
    sigmaL: 0.1,
    noticeableL: 2,
    stepL: 0.1,
    periodMs: 10_000,
    slopeLPerMin: flowLPerMin,
    isLost: false,
    isFrozen: false,
    isAway: false,
    isInDraw: false,
  };
}

/** The float hangs dry at noon: minutes until it is told as a long fill, and until somebody is woken. */
function hung(learned: Learned, hasLevel: boolean): { long: number | null; wake: number | null } {
  const state = newGuardState();
  const found: { long: number | null; wake: number | null } = { long: null, wake: null };
  for (let atMs = noonMs + 10_000; atMs < noonMs + 2 * hourMs; atMs += 10_000) {
    const minutes = (atMs - noonMs) / minuteMs;
    const litres = flowLPerMin * minutes;
    const facts = {
      drum: { id: "mix", volumeL: 200, control: "automatic", level: null } as GuardFacts["drum"],
      said: saidAt(atMs, litres, hasLevel ? levelAt(atMs, litres) : null),
      learned,
      graceMs: 120_000,
      fill: {
        startedAtMs: noonMs,
        meterL: litres,
        levelL: hasLevel ? litres : null,
        contentsL: hasLevel ? 160 : null,
        drawnL: 0,
        hasStood: false,
      },
      overflowProvedUntilMs: null,
      isNight: () => false,
      isAwaiting: false,
      hadFill: true,
      isEmptied: false,
      callSinceMs: noonMs,
    } as GuardFacts;
    const guard = followGuard(state, facts, true);
    if (guard.long) found.long ??= minutes;
    if (guard.notStopping?.attention === "wake") found.wake ??= minutes;
  }
  return found;
}

describe("a float that hangs at noon, when much is drawn every day", () => {
  it("is told later as a long fill: by 1.25 times what noon takes, and not what is usual", () => {
    expect(hung(taught(20), false).long).toBeCloseTo((1.25 * 20) / flowLPerMin, 0);
    expect(hung(taught(100), false).long).toBeCloseTo((1.25 * 100) / flowLPerMin, 0);
  });
  it("wakes no later: by a meter at 1.1 times what the drum holds, by a level past the trip", () => {
    const byMeter = hung(taught(100), false).wake;
    expect(byMeter).toBe(hung(taught(20), false).wake);
    expect(byMeter).toBeCloseTo((1.1 * 200) / flowLPerMin, 0);
    const byLevel = hung(taught(100), true).wake;
    expect(byLevel).toBe(hung(taught(20), true).wake);
    // 20 L to the trip, and 2 % of the drum past it.
    expect(byLevel).toBeCloseTo(24 / flowLPerMin, 0);
  });
});
