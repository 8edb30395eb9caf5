import { conditionText } from "../words/index.ts";
import { type Alarm, type AlarmChange, type Attention, isMoreUrgent } from "./alarm.ts";
import type { Kept, Slot } from "./slot.ts";
import { type AlarmCore, restingAlarm, stateOf } from "./states.ts";

/** An alarm that nobody has said anything of yet. */
export function newKept(nowMs: number): Kept {
  return {
    core: restingAlarm,
    occurrence: "",
    raisedAtMs: 0,
    clearedAtMs: null,
    acknowledgedAtMs: null,
    acknowledgedBy: null,
    value: null,
    limit: null,
    attention: null,
    judged: { now: true, because: null, sinceMs: nowMs },
  };
}

function silencesOf({ shelved, suppressedUntilMs, outUntilMs }: AlarmCore): Pick<Alarm, "silences"> {
  if (shelved === null && suppressedUntilMs === null && outUntilMs === undefined) return {};
  const [shelvedUntilMs, isOneShot] = [shelved?.untilMs ?? null, shelved?.oneShot ?? false];
  const out = outUntilMs === undefined ? {} : { outUntilMs };
  return { silences: { shelvedUntilMs, isOneShot, suppressedUntilMs, ...out } };
}

/** What silences an alarm, from its record; those of before tell one at most. */
function silencedAs({
  state,
  shelvedUntilMs: untilMs,
  silences,
}: Alarm): Pick<AlarmCore, "shelved" | "suppressedUntilMs" | "outUntilMs"> {
  const shelvedMs = silences ? silences.shelvedUntilMs : state === "shelved" ? untilMs : null;
  const suppressedMs = silences
    ? silences.suppressedUntilMs
    : state === "suppressed-by-design"
      ? untilMs
      : null;
  return {
    shelved: shelvedMs === null ? null : { untilMs: shelvedMs, oneShot: silences?.isOneShot ?? false },
    suppressedUntilMs: suppressedMs,
    ...(silences?.outUntilMs === undefined ? {} : { outUntilMs: silences.outUntilMs }),
  };
}

/** Until when it is silent as its state says. */
function silentUntilMs({ outOfService, outUntilMs, shelved, suppressedUntilMs }: AlarmCore): number | null {
  return outOfService ? (outUntilMs ?? null) : (shelved?.untilMs ?? suppressedUntilMs);
}

/** The alarm as it is told and shown. */
export function alarmOf(slot: Slot, kept: Kept, attention: Attention): Alarm {
  const { row, subject, key, limits, place } = slot;
  const own = kept.attention ?? attention;
  // What is more urgent than its cause stands for itself.
  const under = slot.firstOuts.find(
    (first) => first.kept?.core.active && !isMoreUrgent(own, first.kept.attention ?? "record"),
  );
  return {
    key,
    occurrence: kept.occurrence,
    condition: row.id,
    subject: subject.id,
    attention: own,
    state: stateOf(kept.core),
    active: kept.core.active,
    latched: kept.core.latched,
    under: under?.key ?? null,
    judged: kept.judged,
    raisedAtMs: kept.raisedAtMs,
    clearedAtMs: kept.clearedAtMs,
    acknowledgedAtMs: kept.acknowledgedAtMs,
    acknowledgedBy: kept.acknowledgedBy,
    shelvedUntilMs: silentUntilMs(kept.core),
    ...silencesOf(kept.core),
    value: kept.value,
    raisedValue: kept.raisedValue ?? null,
    limit: kept.limit ?? row.shownLimit?.(limits, place) ?? null,
    unit: row.unitOf?.(place) ?? row.words.unit,
    text: conditionText(row.id).title,
    response: conditionText(row.id).response,
  };
}

/** What is remembered, from the last change that a logbook holds; null where the alarm was at rest after it. */
export function keptFromRecord({ alarm }: AlarmChange, isLatching: boolean): Kept | null {
  if (alarm.state === "normal") return null;
  const hasStood = alarm.occurrence !== "";
  // Records of before told neither: what was over and could be held is taken to be held.
  const active = alarm.active ?? (hasStood && alarm.clearedAtMs === null);
  const latched = alarm.latched ?? (isLatching && hasStood && !active);
  return {
    core: {
      active,
      latched,
      acked: !hasStood || alarm.acknowledgedAtMs !== null,
      ...silencedAs(alarm),
      outOfService: alarm.state === "out-of-service",
    },
    occurrence: alarm.occurrence,
    raisedAtMs: alarm.raisedAtMs,
    clearedAtMs: alarm.clearedAtMs,
    acknowledgedAtMs: alarm.acknowledgedAtMs,
    acknowledgedBy: alarm.acknowledgedBy,
    value: alarm.value,
    raisedValue: alarm.raisedValue ?? null,
    limit: alarm.limit,
    attention: hasStood ? alarm.attention : null,
    judged: alarm.judged,
  };
}
