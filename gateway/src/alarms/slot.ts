import type { AnyCondition } from "./condition.ts";
import type { Kept } from "./kept.ts";
import type { AlarmSubject } from "./subject.ts";
import type { Tally } from "./tally.ts";

/** One condition of one subject: what the line says of it, what was counted, what stands. */
export interface Slot {
  readonly row: AnyCondition;
  readonly subject: AlarmSubject;
  /** `condition:subject`. A name, never taken apart. */
  readonly key: string;
  /** Its place in the order in which slots are judged. */
  readonly index: number;
  readonly place: unknown;
  readonly limits: unknown;
  /** What can bring this one about: while it stands unseen, this one does not call. */
  firstOuts: readonly Slot[];
  tally: Tally;
  kept: Kept | null;
  resetAtMs: number | null;
}

/** The key of an alarm. */
export const keyOf = (condition: string, subject: AlarmSubject): string => `${condition}:${subject.name}`;
