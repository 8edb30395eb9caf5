import { type AlarmCore, type AlarmEvent, restingAlarm, stateOf, transition } from "@drumlin/gateway/alarms";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

function walk(latching: boolean, ...events: AlarmEvent["type"][]) {
  let core: AlarmCore = restingAlarm;
  const path: string[] = [];
  for (const type of events) {
    const event = (
      type === "shelve"
        ? { type, untilMs: 1, oneShot: false }
        : type === "suppress"
          ? { type, untilMs: 1 }
          : { type }
    ) as AlarmEvent;
    const next = transition(core, event, latching);
    core = next?.core ?? core;
    path.push(`${stateOf(core)}${next?.annunciate ? "!" : ""}${next ? "" : " (refused)"}`);
  }
  return path;
}

// OPC 10000-9 (Alarms and Conditions) Annex B.1.2, table B.1, without its confirm steps: (Active, Acked) after each event.
describe("the published sequence of OPC 10000-9 table B.1", () => {
  it("is followed", () => {
    let core: AlarmCore = restingAlarm;
    const steps: [AlarmEvent["type"], boolean, boolean][] = [
      ["occur", true, false],
      ["acknowledge", true, true],
      ["clear", false, true],
      ["occur", true, false],
      ["clear", false, false],
      ["acknowledge", false, true],
    ];
    for (const [type, active, acked] of steps) {
      core = transition(core, { type } as AlarmEvent, false)?.core as AlarmCore;
      expect([core.active, core.acked]).toEqual([active, acked]);
    }
  });
});

// State names and transitions after ANSI/ISA-18.2-2016 and IEC 62682:2014 (transitions from memory; E and F need a reset).
describe("the nine states", () => {
  it("out of service until a time, which goes with it", () => {
    const out = transition(restingAlarm, { type: "out-of-service", untilMs: 7 }, false)?.core as AlarmCore;
    expect([stateOf(out), out.outUntilMs]).toEqual(["out-of-service", 7]);
    expect(transition(out, { type: "in-service" }, false)?.core).toEqual(restingAlarm);
  });

  it.each([
    [false, ["occur", "acknowledge", "clear"], ["unacknowledged!", "acknowledged", "normal"]],
    [false, ["occur", "clear", "acknowledge"], ["unacknowledged!", "returned-unacknowledged", "normal"]],
    [false, ["occur", "clear", "occur"], ["unacknowledged!", "returned-unacknowledged", "unacknowledged!"]],
    [
      true,
      ["occur", "clear", "acknowledge", "reset"],
      ["unacknowledged!", "latched-unacknowledged", "latched-acknowledged", "normal"],
    ],
    [true, ["occur", "clear", "reset"], ["unacknowledged!", "latched-unacknowledged", "normal"]],
    [
      true,
      ["occur", "acknowledge", "clear", "occur"],
      ["unacknowledged!", "acknowledged", "latched-acknowledged", "unacknowledged!"],
    ],
    [true, ["occur", "reset"], ["unacknowledged!", "unacknowledged (refused)"]],
    [
      false,
      ["occur", "acknowledge", "shelve", "unshelve"],
      ["unacknowledged!", "acknowledged", "shelved", "unacknowledged!"],
    ],
    [false, ["shelve", "occur", "unshelve"], ["shelved", "shelved", "unacknowledged!"]],
    // A reset ends the silence of what is over; without one it lasts for its time.
    [
      true,
      ["occur", "shelve", "clear", "reset", "occur"],
      ["unacknowledged!", "shelved", "shelved", "normal", "unacknowledged!"],
    ],
    [true, ["occur", "shelve", "clear", "occur"], ["unacknowledged!", "shelved", "shelved", "shelved"]],
    [
      false,
      ["occur", "shelve", "reset", "occur"],
      ["unacknowledged!", "shelved", "normal", "unacknowledged!"],
    ],
    [false, ["occur", "shelve", "clear", "occur"], ["unacknowledged!", "shelved", "shelved", "shelved"]],
    [
      false,
      ["suppress", "occur", "clear", "unsuppress"],
      ["suppressed-by-design", "suppressed-by-design", "suppressed-by-design", "returned-unacknowledged"],
    ],
    [
      false,
      ["out-of-service", "occur", "in-service"],
      ["out-of-service", "out-of-service", "unacknowledged!"],
    ],
    [false, ["acknowledge"], ["normal (refused)"]],
    // Not in the standards: what was marked as seen by mistake is new again.
    [
      true,
      [
        "occur",
        "unacknowledge",
        "acknowledge",
        "unacknowledge",
        "acknowledge",
        "clear",
        "unacknowledge",
        "reset",
      ],
      [
        "unacknowledged!",
        "unacknowledged (refused)",
        "acknowledged",
        "unacknowledged!",
        "acknowledged",
        "latched-acknowledged",
        "latched-unacknowledged",
        "normal",
      ],
    ],
    [
      false,
      ["occur", "acknowledge", "shelve", "unacknowledge", "clear", "acknowledge", "unacknowledge"],
      ["unacknowledged!", "acknowledged", "shelved", "shelved", "shelved", "shelved", "shelved (refused)"],
    ],
  ] as [boolean, AlarmEvent["type"][], string[]][])("latching %s: %j goes %j", (latching, events, path) => {
    expect(walk(latching, ...events)).toEqual(path);
  });

  it("whatever happens: never annunciated while suppressed, and a live alarm is never at rest", () => {
    const event = fc.constantFrom<AlarmEvent["type"]>(
      "occur",
      "clear",
      "acknowledge",
      "unacknowledge",
      "reset",
      "shelve",
      "unshelve",
      "suppress",
      "unsuppress",
      "out-of-service",
      "in-service",
    );
    fc.assert(
      fc.property(fc.boolean(), fc.array(event, { maxLength: 40 }), (latching, events) => {
        let core: AlarmCore = restingAlarm;
        for (const type of events) {
          const next = transition(
            core,
            (type === "shelve"
              ? { type, untilMs: 1, oneShot: false }
              : type === "suppress"
                ? { type, untilMs: 1 }
                : { type }) as AlarmEvent,
            latching,
          );
          if (!next) continue;
          core = next.core;
          const state = stateOf(core);
          if (next.annunciate && state !== "unacknowledged") return false;
          if (core.active && state === "normal") return false;
        }
        return true;
      }),
      { numRuns: 2000 },
    );
  });
});
