import type { Attention } from "../alarms/index.ts";

/** What calls a person, or stands in the morning list. */
export type CallingAttention = Exclude<Attention, "record">;

const urgency: Readonly<Record<Attention, number>> = { wake: 3, tell: 2, today: 1, record: 0 };

/** When whom is told again. Data: it stands in the line file. */
export interface CallPolicy {
  /** Told again each so often until seen; the second person once it was unseen for so long. */
  readonly wake: { readonly againMs: number; readonly secondAfterMs: number };
  /** Told once more when it was unseen for so long. */
  readonly tell: { readonly againMs: number };
  /** Minute of the day at which the morning list goes out. */
  readonly todayAtMinute: number;
  /** What comes within this time of a message to the same place goes into one message. */
  readonly gatherMs: number;
}

/** What the policy must know of a destination. */
export interface Recipient {
  readonly id: string;
  /** Whose it is: not told what they did themselves. */
  readonly who: string | null;
  /** It is told what is as urgent as this or more. */
  readonly takes: CallingAttention;
  /** The second person is told only what wakes, and only after the first did not see it. */
  readonly turn: "first" | "second";
  /** Minutes of the day between which only what wakes is told. */
  readonly quiet: { readonly fromMinute: number; readonly toMinute: number } | null;
  /** What comes soon after a message waits to go into one with the next; a sounder does not wait. */
  readonly gathers: boolean;
  /** What was called before it was made is not told to it, engine time. */
  readonly sinceMs: number;
}

/** Whether a destination is told things of this attention. */
export const doesTake = ({ takes, turn }: Recipient, attention: Attention): boolean =>
  turn === "second" ? attention === "wake" : urgency[attention] >= urgency[takes] && attention !== "record";

/** Whether it is quiet there at that minute of the day; hours may run over midnight. */
export function isQuiet({ quiet }: Pick<Recipient, "quiet">, minute: number): boolean {
  if (!quiet) return false;
  const { fromMinute, toMinute } = quiet;
  return fromMinute <= toMinute
    ? minute >= fromMinute && minute < toMinute
    : minute >= fromMinute || minute < toMinute;
}
