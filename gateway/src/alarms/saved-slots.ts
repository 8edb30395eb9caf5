import type { StateRow } from "../path/index.ts";
import type { NotJudged } from "./alarm.ts";
import type { Kept, Slot } from "./slot.ts";
import type { AlarmCore } from "./states.ts";
import { nothingCounted, type Tally } from "./tally.ts";

/** An alarm's row. */
export interface AlarmRow {
  readonly key: string;
  readonly kept: Kept;
  readonly resetAtMs: number | null;
}

/** The row of what was counted, and when it is looked at again though nothing is heard, epoch ms. */
export interface DelayRow {
  readonly key: string;
  readonly tally: Tally;
  /** Absent in older rows. */
  readonly againAtMs?: number | null;
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

function delayRowOf({ key, tally, againAtMs }: Slot): DelayRow | undefined {
  return tally === nothingCounted && againAtMs === null ? undefined : { key, tally, againAtMs };
}

/** The rows of an alarm and of what was counted of it, kept from now on; those of no slot are taken away: the line no longer has it. */
export function rowsOf(key: string, slot: Slot | undefined): readonly StateRow[] {
  if (slot) slot.isRowOld = false;
  const isKept = slot && (slot.kept !== null || slot.resetAtMs !== null);
  return [
    [`alarm ${key}`, isKept ? { key, kept: slot.kept, resetAtMs: slot.resetAtMs } : undefined],
    [`delay ${key}`, slot && delayRowOf(slot)],
  ];
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
