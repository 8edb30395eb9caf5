import type { AlarmChange, AlarmState, Attention } from "@drumlin/gateway/alarms";
import { foldNight, type NightRecords } from "@drumlin/gateway/nights";
import { expect, it } from "vitest";

const [fromMs, toMs] = [1_000_000, 37_000_000];

function change(state: AlarmState, attention: Attention, more: Partial<AlarmChange["alarm"]> = {}) {
  return {
    kind: "alarm",
    id: state,
    atMs: fromMs + 60_000,
    to: state,
    alarm: {
      key: "drum-not-stopping:mix",
      occurrence: "1",
      condition: "drum-not-stopping",
      subject: "mix",
      text: "Drum does not stop filling",
      response: "Close the supply valve now.",
      raisedAtMs: fromMs,
      attention,
      state,
      active: true,
      latched: false,
      under: null,
      value: null,
      limit: null,
      shelvedUntilMs: null,
      clearedAtMs: null,
      ...more,
    },
  } as unknown as AlarmChange;
}

/** A night with one alarm; `before`: its change came before the night. */
function nightOf(alarm: AlarmChange, before = false) {
  const none = {
    fills: [],
    gaps: [],
    draws: [],
    floats: [],
    batches: [],
    wordsBefore: [],
    words: [],
    acts: [],
  };
  const records: NightRecords = {
    ...none,
    drums: [],
    titleOf: (id) => id,
    alarmsBefore: before ? [alarm] : [],
    alarms: before ? [] : [alarm],
    works: [],
    nodeStarts: [],
  };
  return foldNight({ date: "2026-03-03", timezone: "UTC", fromMs, toMs }, records, toMs);
}

/** What a night says is to be done first. */
const firstOf = (alarm: AlarmChange, before = false) => nightOf(alarm, before).first;

it.each([
  ["shelved", { shelvedUntilMs: toMs }, { as: "shelved", untilMs: toMs }],
  ["out-of-service", {}, { as: "out-of-service", untilMs: null }],
] as const)("a wake that somebody made silent (%s) stands first, and says so", (state, more, silenced) => {
  for (const before of [false, true])
    expect(firstOf(change(state, "wake", more), before)).toMatchObject([{ attention: "wake", silenced }]);
});
it("so does one that is over and held", () => {
  expect(firstOf(change("shelved", "wake", { active: false, latched: true }))).toHaveLength(1);
});
it("one that is over, or calls nobody, is not a thing to do because it is silent", () => {
  expect(firstOf(change("shelved", "wake", { active: false }))).toEqual([]);
  expect(firstOf(change("shelved", "today"))).toEqual([]);
  expect(firstOf(change("suppressed-by-design", "wake"))).toEqual([]);
});
it("one that has ended says what is left to look at", () => {
  const over = { active: false, clearedAtMs: fromMs + 90_000 };
  for (const state of ["latched-unacknowledged", "latched-acknowledged", "returned-unacknowledged"] as const)
    expect(firstOf(change(state, "wake", over))).toMatchObject([
      {
        over: true,
        todo: "Look for water on the floor, and stay clear of wet sockets and cables. Test the stop float and its valve before the next fill.",
      },
    ]);
  expect(firstOf(change("acknowledged", "wake"))).toMatchObject([
    { over: false, todo: "Close the supply valve now." },
  ]);
});
it("one that is heard says nothing of silence", () => {
  expect(firstOf(change("unacknowledged", "wake"))).toMatchObject([{ silenced: null }]);
});
it("one that was over before the night tells no figure: what it fell back to was never its worst", () => {
  const over = { active: false, clearedAtMs: fromMs - 90_000, value: 0, limit: 600 };
  expect(nightOf(change("returned-unacknowledged", "today", over), true).alarms).toMatchObject([
    { value: null, limit: null, endedAtMs: fromMs - 90_000 },
  ]);
  expect(nightOf(change("unacknowledged", "today", { value: 720, limit: 600 }), true).alarms).toMatchObject([
    { value: 720, limit: 600 },
  ]);
});
