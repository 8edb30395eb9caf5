// In mid-fill the float calls and the level has come to rest: supply shut, or level stuck. What its last two minutes rise by, and what
// waves hide, is neither.
import { describe, expect, it } from "vitest";
import type { DrumWitnesses } from "../../../gateway/src/fills/drum-witnesses.ts";
import type { GuardFacts } from "../../../gateway/src/fills/guard/guard-facts.ts";
import { newGuardState } from "../../../gateway/src/fills/guard/guard-state.ts";
import { followLost } from "../../../gateway/src/fills/guard/standing.ts";
import { learn, nothingLearned } from "../../../gateway/src/fills/learned.ts";
import type { Drum } from "../../../gateway/src/line/index.ts";

const minuteMs = 60_000;
const nowMs = Date.UTC(2026, 2, 3, 12);

/** Why the watch is lost, the level at rest for `standsMinutes` of a call that has brought water; 4 L/min are usual, 20 L fit in. */
function because(level: object, standsMinutes = 9): string | null {
  const learned = nothingLearned();
  for (let fill = 0; fill < 6; fill += 1)
    learn(learned, { tripAtL: 180, litres: 20, durationMs: 5 * minuteMs, atMs: nowMs });
  const sinceMs = nowMs - standsMinutes * minuteMs;
  const at = { lastL: 170, litres: 170, drawnL: 0, fallingL: 0, periodMs: 15_000, isLost: false };
  const said = {
    drum: "mix",
    atMs: nowMs,
    meters: [],
    level: { flowing: false, sinceMs, noticeableL: 2, slopeLPerMin: null, ...at, ...level },
    inlet: null,
    stop: { heard: true, wet: false, sinceMs: nowMs - 60 * minuteMs, tripsAtL: 180, releasesAtL: 160 },
  } as unknown as DrumWitnesses;
  const facts = {
    drum: { id: "mix", volumeL: 200, control: "automatic", level: {} } as unknown as Drum,
    ...{ said, learned, fill: null, hadFill: true, callSinceMs: nowMs - 60 * minuteMs },
  } as unknown as GuardFacts;
  const state = { ...newGuardState(), drawn: { litres: 0, sinceMs: 0 } };
  return followLost(state, facts, { pours: null, isGuarded: false })?.because ?? null;
}

describe("the level stands while the float calls", () => {
  it.each([
    ["nothing is known of its slope", {}],
    ["its noise leaves it a slope of 0.2 L/min", { slopeLPerMin: 0.2 }],
    ["noise of 0.5 L leaves it one of 0.9 L/min", { noticeableL: 3, slopeLPerMin: 0.9 }],
    ["it falls", { slopeLPerMin: -3 }],
  ])("its watch is lost where %s", (_name, level) => {
    expect(because(level)).toBe("level-stands");
  });
  it.each([
    ["it rises by 1.6 L/min, at 40 % of the usual pressure", { slopeLPerMin: 1.6 }],
    ["it does so over noise of 0.6 L", { noticeableL: 3.6, slopeLPerMin: 1.6 }],
  ])("not where %s", (_name, level) => {
    expect(because(level)).toBeNull();
  });
  it("nor where its waves hide more than half of what fits between release and trip, however long it stands", () => {
    expect(because({ noticeableL: 9.9 }, 50)).toBe("level-stands");
    expect(because({ noticeableL: 10.1 }, 50)).toBeNull();
  });
});
