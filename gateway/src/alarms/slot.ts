import type { Attention, NotJudged } from "./alarm.ts";
import type { AnyCondition, Band, Look } from "./condition.ts";
import type { AlarmCore } from "./states.ts";
import type { AlarmSubject } from "./subject.ts";
import type { Tally } from "./tally.ts";

/** What is remembered of one alarm. Plain data. */
export interface Kept {
  readonly core: AlarmCore;
  /** Empty: it never stood. */
  readonly occurrence: string;
  readonly raisedAtMs: number;
  readonly clearedAtMs: number | null;
  readonly acknowledgedAtMs: number | null;
  readonly acknowledgedBy: string | null;
  readonly value: number | null;
  /** The value when it was raised; rows of before have none. */
  readonly raisedValue?: number | null;
  readonly limit: number | null;
  /** Null: it never stood, and has the attention that it would have. */
  readonly attention: Attention | null;
  readonly judged: { readonly now: boolean; readonly because: NotJudged | null; readonly sinceMs: number };
}

/** What a slot can ask to be woken for. */
export type SlotDeadline = "judge" | "shelf" | "work" | "service";

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
  /** What this one can bring about, where one ring is for both: while it stands unseen, this one does not call either. */
  oneRingWith: readonly Slot[];
  tally: Tally;
  kept: Kept | null;
  resetAtMs: number | null;
  /** When it is judged again though nothing is heard, epoch ms; null: no deadline was asked for. */
  againAtMs: number | null;
  /** Names of its deadlines. */
  readonly wakes: Readonly<Record<SlotDeadline, string>>;
  /** What was counted of it changed since its row was kept. */
  isRowOld: boolean;
  /** It is judged at the end of this step. */
  isTouched: boolean;
  /** Series that it hears. */
  heard: readonly HeardSeries[];
  /** It need not be judged meanwhile; null: it is judged. */
  rest: Rest | null;
  /** After so many judgings it is asked whether it can rest. */
  askIn: number;
  /** What its condition looks at; null until it is judged first, and after a start. */
  look: Look<unknown, unknown> | null;
}

/** A series that slots hear, or lean on without hearing it. */
export interface HeardSeries {
  readonly name: string;
  /** Slots that are judged when it is heard. */
  readonly busy: Slot[];
  /** Slots at rest that lean on it, each with its band. */
  readonly leaning: { readonly slot: Slot; readonly band: Band }[];
  /** What all of those bands have in common. */
  low: number;
  high: number;
  untilMs: number;
  /** Its newest measurement; and the one before this step, if it was heard in step `heardIn`. */
  tMs: number;
  beforeMs: number;
  heardIn: number;
}

/** A slot at rest: by which series' readings it would be judged, and on which it leans. */
export interface Rest {
  readonly own: HeardSeries;
  readonly leansOn: readonly HeardSeries[];
}

/** The key of an alarm. */
export const keyOf = (condition: string, subject: AlarmSubject): string => `${condition}:${subject.name}`;
