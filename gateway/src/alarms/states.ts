import type { AlarmState } from "./alarm.ts";

/** What the process and the operator have made of an alarm. Plain JSON. */
export interface AlarmCore {
  readonly active: boolean;
  /** It went back by itself and is held until reset. */
  readonly latched: boolean;
  readonly acked: boolean;
  /** Until when an operator silenced it; one-shot ends with the return to normal. */
  readonly shelved: { readonly untilMs: number; readonly oneShot: boolean } | null;
  /** Suppressed by design until then, by work in progress. */
  readonly suppressedUntilMs: number | null;
  readonly outOfService: boolean;
  /** Until when it is out of service; left out: until somebody puts it back. */
  readonly outUntilMs?: number;
}

/** The alarm at rest. */
export const restingAlarm: AlarmCore = {
  active: false,
  latched: false,
  acked: true,
  shelved: null,
  suppressedUntilMs: null,
  outOfService: false,
};

/** What can happen to an alarm. */
export type AlarmEvent =
  | { readonly type: "occur" }
  | { readonly type: "clear" }
  | { readonly type: "acknowledge" }
  | { readonly type: "unacknowledge" }
  | { readonly type: "reset" }
  | { readonly type: "shelve"; readonly untilMs: number; readonly oneShot: boolean }
  | { readonly type: "unshelve" }
  | { readonly type: "suppress"; readonly untilMs: number }
  | { readonly type: "unsuppress" }
  | { readonly type: "out-of-service"; readonly untilMs?: number }
  | { readonly type: "in-service" };

/** The alarm after an event, and whether a person is called by it. `null`: the event is not possible in this state. */
export type Transition = { readonly core: AlarmCore; readonly annunciate: boolean } | null;

function suppressed(core: AlarmCore): boolean {
  return core.outOfService || core.suppressedUntilMs !== null || core.shelved !== null;
}

/** The state's name in ANSI/ISA-18.2-2016 and IEC 62682:2014, whose letters A–I are in this order. */
export function stateOf(core: AlarmCore): AlarmState {
  if (core.outOfService) return "out-of-service";
  if (core.suppressedUntilMs !== null) return "suppressed-by-design";
  if (core.shelved !== null) return "shelved";
  if (core.active) return core.acked ? "acknowledged" : "unacknowledged";
  if (core.latched) return core.acked ? "latched-acknowledged" : "latched-unacknowledged";
  return core.acked ? "normal" : "returned-unacknowledged";
}

// Coming out of suppression: a live condition annunciates as new, whatever was acknowledged before.
function released(core: AlarmCore): Transition {
  if (suppressed(core)) return { core, annunciate: false };
  if (core.active) return { core: { ...core, acked: false }, annunciate: true };
  return { core, annunciate: false };
}

/** One step of the machine. `latching`: the condition stays until reset. */
export function transition(core: AlarmCore, event: AlarmEvent, latching: boolean): Transition {
  switch (event.type) {
    case "occur":
      if (core.active) return null;
      return { core: { ...core, active: true, latched: false, acked: false }, annunciate: !suppressed(core) };
    case "clear": {
      if (!core.active) return null;
      const shelved = core.shelved?.oneShot ? null : core.shelved;
      return { core: { ...core, active: false, latched: latching, shelved }, annunciate: false };
    }
    case "acknowledge":
      return core.acked ? null : { core: { ...core, acked: true }, annunciate: false };
    case "unacknowledge":
      return core.acked && (core.active || core.latched)
        ? { core: { ...core, acked: false }, annunciate: core.active && !suppressed(core) }
        : null;
    case "reset":
      // What a person has said to be over is no longer what was silenced: the next one calls.
      return core.latched || (core.active && !latching)
        ? { core: { ...core, active: false, latched: false, acked: true, shelved: null }, annunciate: false }
        : null;
    case "shelve":
      if (core.outOfService || core.suppressedUntilMs !== null) return null;
      return {
        core: { ...core, shelved: { untilMs: event.untilMs, oneShot: event.oneShot } },
        annunciate: false,
      };
    case "unshelve":
      return core.shelved === null ? null : released({ ...core, shelved: null });
    case "suppress":
      return { core: { ...core, suppressedUntilMs: event.untilMs }, annunciate: false };
    case "unsuppress":
      return core.suppressedUntilMs === null ? null : released({ ...core, suppressedUntilMs: null });
    case "out-of-service":
      if (core.outOfService) return null;
      return {
        core: {
          ...core,
          outOfService: true,
          ...(event.untilMs === undefined ? {} : { outUntilMs: event.untilMs }),
        },
        annunciate: false,
      };
    case "in-service": {
      const { outUntilMs: _ended, ...rest } = core;
      return core.outOfService ? released({ ...rest, outOfService: false }) : null;
    }
  }
}
