import type { z } from "zod";
import type { Act } from "../acts/index.ts";
import type { Line } from "../line/index.ts";
import type { BoardView, Cell } from "../path/index.ts";
import type { ConditionId } from "../words/index.ts";
import type { AlarmChange, Attention, NotJudged } from "./alarm.ts";
import type { Delays } from "./delays.ts";
import type { AlarmSubject, AlarmSubjectKind } from "./subject.ts";
import type { WorkSubject } from "./work.ts";

/** The occurrence that stands, as its condition may know it. */
export interface Standing {
  readonly sinceMs: number;
  readonly isSeen: boolean;
  readonly attention: Attention;
}

/** What a condition looks at when it judges one subject. */
export interface Look<Limits, Place> {
  /** Only cells that the condition says it reads; another throws. */
  readonly board: BoardView;
  readonly line: Line;
  readonly subject: AlarmSubject;
  /** What the condition works out of the line once for each subject. */
  readonly place: Place;
  readonly limits: Limits;
  readonly nowMs: number;
  /** Null while it does not stand. */
  readonly standing: Standing | null;
  /** When a person last reset it, epoch ms; null: never. */
  readonly resetAtMs: number | null;
  /** The gateway's last start: what it could not hear before then is nobody's silence. */
  readonly startedMs: number;
  /** The state of another condition, one of those in `after`. */
  other(condition: string, subject: string): Standing | null;
}

/** What a condition says of a subject now. */
export interface Verdict {
  readonly is: boolean | "unknown";
  /** What it goes by, in the condition's unit. */
  readonly value: number | null;
  /** The limit that it was held against. */
  readonly limit?: number | null;
  /** How far the value is past that limit, in the same unit; less than 0 inside. The deadband is counted from it. */
  readonly beyond?: number;
  /** Far past the limit; left out where the condition knows no such thing, or can't tell now. */
  readonly gross?: boolean;
  /** Why it can't be judged, where `is` is unknown. */
  readonly because?: NotJudged;
  /** Time of the reading that it goes by, epoch ms: each newer one is one reading, and judged time goes by it. */
  readonly tMs?: number;
  /** A count of litres that goes on while water runs, and the fill that has ended: for delays in litres and fills. */
  readonly litres?: number | null;
  readonly fill?: string;
  /** In place of the condition's own on delay, where how it is known asks for another. */
  readonly on?: Delays;
  /** When to look again though nothing may be heard, epoch ms. */
  readonly againAtMs?: number;
}

/** A cell's subject whose change makes a condition look again. */
export interface Heard {
  readonly cell: Cell<unknown>;
  readonly key: string;
}

/** Values of a series' measurements, both ends included, and until when; what is left out has no end. */
export interface Band {
  readonly series: string;
  readonly low?: number;
  readonly high?: number;
  /** Epoch ms. */
  readonly untilMs?: number;
}

/** Words of a condition's row, for API and documents; what people read of it stands in the room `words`, by its id. */
interface ConditionWords {
  /** UCUM; empty where there is no value. */
  readonly unit: string;
  /** Where the limit comes from. */
  readonly source: string;
  /** When it is told and when it is over, in one sentence or two, for the table of conditions. */
  readonly when: string;
  /** Its attention, in words, for that table. */
  readonly attention: string;
}

/**
 * A condition: one row. It only says what is; the engine counts delays and deadband, holds what is unknown, latches,
 * groups, calls, and keeps the states.
 */
export interface Condition<Limits = unknown, Place = unknown> {
  /** One that has words in `words/conditions/`, in every language. */
  readonly id: ConditionId;
  readonly subjectKinds: readonly AlarmSubjectKind[];
  readonly words: ConditionWords;
  /** What a line file may set, each of which may be left out and is described: "a number over 0". */
  readonly settings: z.ZodObject;
  /** The limits of a subject where the file sets nothing. */
  defaults(line: Line, subject: AlarmSubject): Limits;
  /** Where its unit depends on what is judged; else that of its words. */
  unitOf?(place: Place): string;
  /** The limit that is shown before anything was judged. */
  shownLimit?(limits: Limits, place: Place): number | null;
  /** Subjects of a line that it is judged for. */
  subjects(line: Line): readonly AlarmSubject[];
  /** What it needs of the line for a subject: worked out once for each line. */
  place(line: Line, subject: AlarmSubject): Place;
  /** Cells that it looks at. */
  readonly reads: readonly Cell<unknown>[];
  /** Changes that make it look again. Cells of `reads` only. */
  hears(place: Place, subject: AlarmSubject): readonly Heard[];
  /** Conditions whose state it looks at: they are judged before it. */
  readonly after?: readonly string[];
  /** Why it can't be judged now, whatever the reading; null: it can. */
  gate?(look: Look<Limits, Place>): NotJudged | null;
  /** Gates that a gross value passes. */
  readonly grossPasses?: readonly NotJudged[];
  judge(look: Look<Limits, Place>): Verdict;
  /**
   * Within which values of the series that it goes by its verdict stays of one kind, however often it is judged: not past
   * its limit or kept from being judged, as now, not gross, no clock waited for, and nothing counted but readings. The
   * first is the series whose time the verdict has. Holds while those that it hears are followed, each that is measured is
   * usable (no flag 4 or 9) and proven, and no other cell that it hears changes: it is not judged meanwhile. Null: it is
   * judged at each reading.
   */
  calmWithin?(look: Look<Limits, Place>): readonly Band[] | null;
  /** Delays until it stands; a gross value's; and until it is over. */
  on(limits: Limits): Delays;
  /** Judged time inside the limit is taken off the time past it, and does not end it: one good reading in eight clears nothing. */
  readonly isByShare?: boolean;
  gross?(limits: Limits): Delays;
  off(limits: Limits): Delays;
  /** It is over only so far inside its limit, in its unit. */
  deadband?(limits: Limits, limit: number): number;
  /** It stands until a person resets it. */
  readonly isLatching: boolean;
  /** May rise while it stands, and does not fall. */
  attention(look: Look<Limits, Place>): Attention;
  /**
   * What it brings about: that does not call while this stands unseen, unless it is more urgent. `isOneRing`: nor does this
   * one while that stands unseen, whichever came first.
   */
  readonly causes?: readonly {
    readonly condition: string;
    readonly isOneRing?: boolean;
    subjects(line: Line, subject: AlarmSubject): readonly string[];
  }[];
  /** Work that explains it. */
  work?(line: Line, subject: AlarmSubject): readonly WorkSubject[];
  /** An act that ends it, and by which word. */
  endedBy?(act: Act, line: Line, subject: AlarmSubject): AlarmChange["why"] | null;
}

/** A condition of the list, whatever its limits and its place are. */
// biome-ignore lint/suspicious/noExplicitAny: each row's limits and place are checked where it is defined
export type AnyCondition = Condition<any, any>;
