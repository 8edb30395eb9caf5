/** Attention, in the order of urgency. */
export type Attention = "wake" | "tell" | "today" | "record";
const urgency: Readonly<Record<Attention, number>> = { wake: 3, tell: 2, today: 1, record: 0 };

/** The first is more urgent than the second. */
export const isMoreUrgent = (one: Attention, other: Attention): boolean => urgency[one] > urgency[other];

/** Only wake and tell call a person. */
export const doesCall = (attention: Attention): boolean => urgency[attention] >= urgency.tell;

/** Priority words of the API, one to one with attention. */
export type Priority = "critical" | "high" | "medium" | "low";
/** The priority of ISA-18.2 that an attention is. */
export const priorityOf: Readonly<Record<Attention, Priority>> = {
  wake: "critical",
  tell: "high",
  today: "medium",
  record: "low",
};

/** States of ANSI/ISA-18.2-2016 and IEC 62682:2014, by their usual short names. */
export type AlarmState =
  | "normal"
  | "unacknowledged"
  | "acknowledged"
  | "returned-unacknowledged"
  | "latched-unacknowledged"
  | "latched-acknowledged"
  | "shelved"
  | "suppressed-by-design"
  | "out-of-service";

/** Why a condition is not judged now; null reason = it is judged. */
export type NotJudged =
  | "no-flow"
  | "settling"
  | "no-valid-reading"
  | "flow-unknown"
  | "water-runs"
  | "just-started"
  | "never-heard"
  | "not-ready";

/** One alarm as it stands. Also what the API lists. */
export interface Alarm {
  /** `condition:subject`. */
  readonly key: string;
  /** Id of this occurrence: that of the change which raised it. */
  readonly occurrence: string;
  readonly condition: string;
  readonly subject: string;
  readonly attention: Attention;
  readonly state: AlarmState;
  /** The condition is so, as far as it was last judged. */
  readonly active: boolean;
  /** It is over and held until a person resets it. */
  readonly latched: boolean;
  /** Key of the alarm that brought it about and stands; null: it stands for itself. */
  readonly under: string | null;
  readonly judged: { readonly now: boolean; readonly because: NotJudged | null; readonly sinceMs: number };
  readonly raisedAtMs: number;
  readonly clearedAtMs: number | null;
  readonly acknowledgedAtMs: number | null;
  readonly acknowledgedBy: string | null;
  /** Until when its silence lasts, whoever made it. */
  readonly shelvedUntilMs: number | null;
  /** Each silence for itself, where there is one: a shelf and work may stand at once, and one of them ends first. */
  readonly silences?: {
    readonly shelvedUntilMs: number | null;
    readonly isOneShot: boolean;
    readonly suppressedUntilMs: number | null;
    /** Left out: it is in service, or out of it until somebody puts it back. */
    readonly outUntilMs?: number;
  };
  /** Value now (last judged) and the limit in the quantity's unit. */
  readonly value: number | null;
  /** The value when it was raised; null or left out where that is not known. */
  readonly raisedValue?: number | null;
  readonly limit: number | null;
  readonly unit: string;
  readonly text: string;
  readonly response: string;
}

/** One change of an alarm, for the journal of alarms, the stream and the outboxes; inserted by id. */
export interface AlarmChange {
  readonly kind: "alarm";
  /** `{seq}/{condition}:{subject}/{k}`: the k-th change of this alarm by that journal entry. */
  readonly id: string;
  readonly atMs: number;
  readonly from: AlarmState;
  readonly to: AlarmState;
  readonly why:
    | "raised"
    | "raised-gross"
    | "returned"
    | "re-raised"
    | "acknowledged"
    | "seen-undone"
    | "reset"
    | "shelved"
    | "unshelved"
    | "shelf-ended"
    | "suppressed"
    | "unsuppressed"
    | "out-of-service"
    | "in-service"
    | "attention-raised"
    | "medium-changed"
    | "withdrawn"
    | "judged"
    | "not-judged";
  readonly by: string | null;
  /** True when this change calls a person: an annunciation. */
  readonly annunciated: boolean;
  readonly alarm: Alarm;
}
