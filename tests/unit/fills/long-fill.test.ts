import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { DrumWitnesses, MeterSaid, Said } from "../../../gateway/src/fills/drum-witnesses.ts";
import type { GuardFacts } from "../../../gateway/src/fills/guard/guard-facts.ts";
import { newGuardState } from "../../../gateway/src/fills/guard/guard-state.ts";
import { isOpenAlone, longBeside, longFill } from "../../../gateway/src/fills/guard/long-fill.ts";
import {
  type Learned,
  learn,
  learnCall,
  nothingLearned,
  peaksAt,
} from "../../../gateway/src/fills/learned.ts";
import { learnOpenInCall } from "../../../gateway/src/fills/openings.ts";
import type { Drum } from "../../../gateway/src/line/index.ts";

const minuteMs = 60_000;
const dayMs = 24 * 60 * minuteMs;
const nowMs = 20_000 * dayMs + 12 * 60 * minuteMs;

/** Twelve fills and calls of 20 L or so a day, and on some days a greater one at this hour: so many times as great, newest last. */
function taught(greater: readonly number[]): Learned {
  const learned = nothingLearned();
  const one = (atMs: number, times: number) => {
    const durationMs = times * 5 * minuteMs;
    learnCall(learned, durationMs, atMs);
    learnOpenInCall(learned, { openMs: durationMs, atMs, hasStood: false });
    learn(learned, { tripAtL: 180, litres: times * 20, durationMs, atMs });
  };
  for (const [index, times] of greater.entries()) {
    const noonMs = nowMs - (greater.length - index) * dayMs;
    for (let usual = 12; usual > 0; usual -= 1)
      one(noonMs - (3 * 60 + usual * 20) * minuteMs, 1 + usual / 100);
    if (times > 0) one(noonMs, times);
  }
  return learned;
}
const lessons = fc.constantFrom(
  ...[[], [0, 0], [3, 3], [2, 2, 2, 2], [6, 0, 6, 0], [5, 4, 0, 0], [0, 0, 8, 0]].map(taught),
);

const flowing = fc.constantFrom(true, false, null);
const minutesAgo = fc.nat(60).map((minutes) => nowMs - minutes * minuteMs);
const contact: fc.Arbitrary<Said | null> = fc.option(
  fc.record({ flowing, sinceMs: minutesAgo, flowLPerMin: fc.constant(null) }),
);
const meter: fc.Arbitrary<MeterSaid> = fc.record({ flowing, sinceMs: minutesAgo }).map((said) => ({
  ...said,
  key: "resin",
  flowLPerMin: 4,
  totalL: 500,
  stillL: 0,
  bridgedL: 0,
  lastBridgedMs: 0,
  lastMs: nowMs,
  periodMs: 10_000,
  zeroSinceMs: null,
  steadyLPerMin: 4,
  isShared: false,
  hasTaps: false,
}));

function saidOf(meters: readonly MeterSaid[], inlet: Said | null, person: Said | null): DrumWitnesses {
  return {
    drum: "mix",
    atMs: nowMs,
    meters,
    level: null,
    inlet,
    pump: null,
    stop: null,
    overflow: null,
    person,
    others: [],
    heardMs: nowMs,
    greatestFlowLPerMin: null,
    restsSinceTrip: false,
    runsOver: false,
  };
}

const moment = fc
  .record({
    learned: lessons,
    meters: fc.array(meter, { maxLength: 1 }),
    inlet: contact,
    person: contact,
    control: fc.constantFrom("automatic" as const, "manual" as const),
    callSinceMs: fc.option(minutesAgo),
    fill: fc.option(
      fc.record({
        startedAtMs: minutesAgo,
        meterL: fc.option(fc.nat(150)),
        levelL: fc.constant(null),
        contentsL: fc.constant(null),
        drawnL: fc.constant(0),
        hasStood: fc.boolean(),
      }),
    ),
    isEmptied: fc.boolean(),
    pours: fc.boolean(),
    opened: fc.option(fc.record({ openMs: fc.nat(90 * minuteMs), times: fc.nat(3), isOpen: fc.boolean() })),
  })
  .map(({ meters, inlet, person, control, pours, opened, ...facts }) => ({
    pours,
    state: {
      ...newGuardState(),
      ...(opened ? { opened: { ...opened, callMs: facts.callSinceMs ?? nowMs, lastMs: nowMs } } : {}),
    },
    facts: {
      ...facts,
      drum: { id: "mix", volumeL: 200, control } as Drum,
      said: saidOf(meters, inlet, person),
      graceMs: 2 * minuteMs,
      overflowProvedUntilMs: null,
      isNight: () => false,
      hadFill: true,
      isAwaiting: false,
    } satisfies GuardFacts,
  }));

describe("a long fill", () => {
  it("is told as if habits had been looked through each time", () => {
    const seen = { long: 0, byHabit: 0 };
    fc.assert(
      fc.property(moment, ({ state, facts, pours }) => {
        // A valve that stands open alone has a rule of its own before.
        fc.pre(!isOpenAlone(facts));
        const peak = peaksAt(facts.learned, facts.said.atMs);
        const whole = longBeside(state, facts, { pours, peak });
        const bare = longBeside(state, facts, { pours, peak: { litres: 0, durationMs: 0, callMs: 0 } });
        if (whole) seen.long += 1;
        else if (bare) seen.byHabit += 1;
        expect(longFill(state, facts, pours)).toEqual(whole);
      }),
      { numRuns: 1500 },
    );
    expect(seen.long).toBeGreaterThan(100);
    expect(seen.byHabit).toBeGreaterThan(20);
  });
});
