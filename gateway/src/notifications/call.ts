import type { Alarm, AlarmChange } from "../alarms/index.ts";
import type { CallingAttention } from "./policy.ts";

/** One thing to be told: an alarm that called a person, or that stands in the morning list. Times are engine time. */
export interface Call {
  /** Of the change that called: `{seq}/{key}/{k}`. One occurrence calls again when its attention rises or a silence ends. */
  readonly id: string;
  readonly key: string;
  readonly occurrence: string;
  readonly attention: CallingAttention;
  readonly calledAtMs: number;
  /** Nobody was called: what brought it about did that, and tells of it. */
  readonly isConsequence: boolean;
  readonly endedAtMs: number | null;
  readonly seenAtMs: number | null;
  readonly seenBy: string | null;
  /** Somebody silenced it, works there, or switched it off. */
  readonly silencedAtMs: number | null;
  /** Absent in calls of an earlier version. */
  readonly silencedBy?: string | null;
  /** A later call of the same alarm has taken its place. */
  readonly isReplaced: boolean;
  /** The alarm as it was told last. */
  readonly alarm: Alarm;
}

/** An alarm that asks for a person's look: neither seen, nor silenced, nor over. */
export const isOpen = (call: Call): boolean =>
  call.seenAtMs === null &&
  call.silencedAtMs === null &&
  !call.isReplaced &&
  (call.endedAtMs === null || call.alarm.latched);

const silentStates: ReadonlySet<string> = new Set(["shelved", "suppressed-by-design", "out-of-service"]);
const raisings: ReadonlySet<string> = new Set(["raised", "raised-gross", "re-raised"]);

/** A change that makes a call: it annunciates, or it is one for the morning list, or comes under what was called. */
function callOf(change: AlarmChange): Call | null {
  const { alarm, annunciated, id, why, atMs } = change;
  const { attention } = alarm;
  if (attention === "record") return null;
  const isRaised = raisings.has(why) && !silentStates.has(alarm.state);
  const isConsequence = isRaised && !annunciated && attention !== "today" && alarm.under !== null;
  if (!annunciated && !isConsequence && !(isRaised && attention === "today")) return null;
  return {
    id,
    key: alarm.key,
    occurrence: alarm.occurrence,
    attention,
    calledAtMs: atMs,
    isConsequence,
    endedAtMs: null,
    seenAtMs: null,
    seenBy: null,
    silencedAtMs: null,
    isReplaced: false,
    alarm,
  };
}

function followed(before: Call, { alarm, atMs, by, why }: AlarmChange): Call {
  // Taken back: its reminders go on.
  const call = why === "seen-undone" ? { ...before, seenAtMs: null, seenBy: null } : before;
  const isSeen = alarm.acknowledgedAtMs !== null;
  const isSilent = silentStates.has(alarm.state);
  return {
    ...call,
    alarm,
    endedAtMs: call.endedAtMs ?? (alarm.active ? null : atMs),
    seenAtMs: call.seenAtMs ?? (isSeen ? atMs : null),
    seenBy: call.seenBy ?? (isSeen ? (alarm.acknowledgedBy ?? by) : null),
    silencedAtMs: call.silencedAtMs ?? (isSilent ? atMs : null),
    silencedBy: call.silencedBy ?? (isSilent && call.silencedAtMs === null ? by : null),
  };
}

/** What a change makes of the calls of its alarm that are still followed: those that changed, a new one among them. */
export function followCalls(ofAlarm: readonly Call[], change: AlarmChange): readonly Call[] {
  const fresh = callOf(change);
  const changed = ofAlarm
    .filter(({ isReplaced, id }) => !isReplaced && id !== change.id)
    .map((call) => (fresh ? { ...call, isReplaced: true } : followed(call, change)));
  return fresh ? [...changed, fresh] : changed;
}
