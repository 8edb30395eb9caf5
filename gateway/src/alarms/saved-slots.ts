import type { NotJudged } from "./alarm.ts";
import type { Kept } from "./slot.ts";
import type { AlarmCore } from "./states.ts";
import type { Tally } from "./tally.ts";

/** Rows of this stage: one for each alarm and one for what was counted of it. */
export const alarmRow = (key: string): string => `alarm ${key}`;
export const delayRow = (key: string): string => `delay ${key}`;
export const startRow = "start";

/** An alarm's row. */
export interface AlarmRow {
  readonly key: string;
  readonly kept: Kept;
  readonly resetAtMs: number | null;
}

/** The row of what was counted. */
export interface DelayRow {
  readonly key: string;
  readonly tally: Tally;
}

/** Before conditions were rows, everything stood under one key, alarms by theirs. */
interface WholeState {
  readonly kept: Readonly<
    Record<
      string,
      {
        readonly core: AlarmCore;
        readonly occurrence: string;
        readonly raisedAtMs: number;
        readonly clearedAtMs: number | null;
        readonly acknowledgedAtMs: number | null;
        readonly acknowledgedBy: string | null;
        readonly value: number | null;
        readonly judged: {
          readonly now: boolean;
          readonly because: NotJudged | null;
          readonly sinceMs: number;
        };
      }
    >
  >;
}

/** Alarms of saved rows, of this form or (before version 2) of the whole state. */
export function* savedAlarms(rows: ReadonlyMap<string, unknown>, fromVersion: number): Iterable<AlarmRow> {
  if (fromVersion < 2) {
    const whole = rows.get("all") as WholeState | undefined;
    for (const [key, kept] of Object.entries(whole?.kept ?? {}))
      yield { key, kept: { ...kept, limit: null, attention: null }, resetAtMs: null };
    return;
  }
  for (const [name, row] of rows) if (name.startsWith("alarm ")) yield row as AlarmRow;
}

/** What was counted, of saved rows. */
export function* savedDelays(rows: ReadonlyMap<string, unknown>): Iterable<DelayRow> {
  for (const [name, row] of rows) if (name.startsWith("delay ")) yield row as DelayRow;
}
