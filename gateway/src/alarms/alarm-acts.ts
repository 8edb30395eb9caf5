import type { ActRefused, AlarmAct } from "../acts/index.ts";
import { say } from "../words/index.ts";
import type { AlarmChange } from "./alarm.ts";
import type { Slot } from "./slot.ts";
import { type AlarmEvent, restingAlarm, stateOf, transition } from "./states.ts";

/** What an act on an alarm is told as. */
export const actWords: Readonly<Record<AlarmAct["type"], AlarmChange["why"]>> = {
  acknowledge: "acknowledged",
  unacknowledge: "seen-undone",
  shelve: "shelved",
  unshelve: "unshelved",
  reset: "reset",
  "out-of-service": "out-of-service",
  "in-service": "in-service",
};

/** So long it can be taken back that somebody has seen an alarm, ms. */
const undoWithinMs = 10 * 60_000;

/** What an act on an alarm means to its states. */
export function eventOf(act: AlarmAct): AlarmEvent {
  if (act.type === "out-of-service" && act.untilMs !== undefined)
    return { type: "out-of-service", untilMs: act.untilMs };
  return act.type === "shelve"
    ? { type: "shelve", untilMs: act.untilMs, oneShot: act.oneShot === true }
    : { type: act.type };
}

/** Of a condition that is not held, a reset ends the occurrence that stands. */
export const doesResetEnd = ({ row, kept }: Slot): boolean => !row.isLatching && kept?.core.active === true;

/** Acts of before named occurrences `{seq}.{n}`: run again, they find the occurrence that began with that entry or near it. */
const oldName = /^(\d+)\.\d+$/;
const maxEntriesApart = 20;

function isSameOccurrence(act: AlarmAct, occurrence: string): boolean {
  if (act.occurrence === occurrence) return true;
  const old = act.isExact ? undefined : oldName.exec(act.occurrence)?.[1];
  return old !== undefined && Math.abs(Number(old) - Number.parseInt(occurrence, 10)) <= maxEntriesApart;
}

/** Whether an act on an alarm can be taken: null, or why not. */
export function refusalOf(act: AlarmAct, slot: Slot | undefined, nowMs: number): ActRefused | null {
  const { key, occurrence, type } = act;
  if (!slot) return { code: "no-such-alarm", message: `There is no alarm ${key}.` };
  const { kept } = slot;
  if (!kept && type !== "out-of-service") return { code: "no-such-alarm", message: `${key} does not stand.` };
  if (kept && !isSameOccurrence(act, kept.occurrence))
    return {
      code: "occurrence-changed",
      message: `${key} stands as occurrence ${kept.occurrence}, not ${occurrence}: look again before you act.`,
    };
  const refuse = (message: string): ActRefused => ({ code: "not-possible-in-state", message });
  if ("untilMs" in act && act.untilMs !== undefined && act.untilMs <= nowMs)
    return refuse(say("silence-time-over"));
  const core = kept?.core ?? restingAlarm;
  if (type === "unacknowledge" && nowMs - (kept?.acknowledgedAtMs ?? nowMs) > undoWithinMs)
    return refuse(say("seen-too-old"));
  if (transition(core, eventOf(act), slot.row.isLatching) !== null) return null;
  if (type !== "reset") return refuse(`${key} is ${stateOf(core)}: ${type} changes nothing.`);
  return doesResetEnd(slot) ? null : refuse(`${key} still stands: it can be reset when the cause is gone.`);
}
