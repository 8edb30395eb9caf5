/** Attention, in the order of urgency. */
export type Attention = "wake" | "tell" | "today" | "record";
/** Priority words of the API, one to one with attention. */
export type Priority = "critical" | "high" | "medium" | "low";
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
export type NotJudged = "no-flow" | "settling" | "no-valid-reading" | "flow-unknown" | "just-started";

/** One alarm as it stands. Also what the API lists. */
export interface Alarm {
  /** `condition:subject`. */
  readonly key: string;
  /** Id of this occurrence: `{seq}.{n}` of the entry that raised it. */
  readonly occurrence: string;
  readonly condition: string;
  readonly subject: string;
  readonly attention: Attention;
  readonly state: AlarmState;
  readonly judged: { readonly now: boolean; readonly because: NotJudged | null; readonly sinceMs: number };
  readonly raisedAtMs: number;
  readonly clearedAtMs: number | null;
  readonly acknowledgedAtMs: number | null;
  readonly acknowledgedBy: string | null;
  readonly shelvedUntilMs: number | null;
  /** Value now (last judged) and the limit in the quantity's unit. */
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: string;
  readonly text: string;
  readonly response: string;
}

/** One change of an alarm, for the journal of alarms, the stream and the outboxes; inserted by id. */
export interface AlarmChange {
  readonly kind: "alarm";
  /** `{seq}.{n}`. */
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
    | "reset"
    | "shelved"
    | "unshelved"
    | "shelf-ended"
    | "suppressed"
    | "unsuppressed"
    | "out-of-service"
    | "in-service"
    | "medium-changed"
    | "withdrawn"
    | "judged"
    | "not-judged";
  readonly by: string | null;
  /** True when this change calls a person: an annunciation. */
  readonly annunciated: boolean;
  readonly alarm: Alarm;
}
