import type { Act, ActRefused } from "../acts/index.ts";
import type { Line } from "../line/index.ts";
import type { Cell } from "./cell.ts";
import type { Records } from "./records.ts";

/** Anything that stages hear and tell: journal entries, readings, measurements, runs, fills, alarms … */
export interface PathEvent {
  readonly kind: string;
}

/** The journal entry that is being run. */
export interface EntryMark {
  readonly seq: number;
  /** Gateway time when it came, epoch ms. */
  readonly receivedAt: number;
}

/** What a stage may look at: cells that it owns or reads, and the time. */
export interface BoardView {
  /** Undefined while nothing is known. Throws for a cell that the stage neither owns nor reads. */
  get<Value>(cell: Cell<Value>, subject: string): Value | undefined;
  /** Every subject of a cell with its value, in the order in which they were first put. */
  entries<Value>(cell: Cell<Value>): IterableIterator<[subject: string, value: Value]>;
}

/** What a stage works with in a step. */
export interface StageContext<Told extends PathEvent = PathEvent> extends BoardView {
  /** Engine time, epoch ms: the greatest `receivedAt` so far, or the due time of the deadline that is met. */
  readonly nowMs: number;
  readonly entry: EntryMark;
  /** Replaces a value of an own cell; undefined takes it away. */
  put<Value>(cell: Cell<Value>, subject: string, value: Value | undefined): void;
  /** Hands an outcome to the later stages that hear its kind, and out of the path. */
  tell(event: Told): void;
  /** Asks for `wake(key)` at `atMs`, in place of what was asked under that key; null: no more. */
  wakeAt(key: string, atMs: number | null): void;
}

/** One handler for each kind that a stage hears. */
export type Hears<Heard extends PathEvent, Told extends PathEvent> = {
  readonly [Kind in Heard["kind"]]?: (
    event: Extract<Heard, { readonly kind: Kind }>,
    ctx: StageContext<Told>,
  ) => void;
};

/** A row of a stage's state: plain data; undefined takes the row away. */
export type StateRow = readonly [key: string, plain: unknown];

/**
 * One pure stage of the path. It does no I/O and owns no clock; the same events in the same order give the same
 * outcomes. Everything that it remembers is in its rows and its cells.
 */
export interface Stage<Heard extends PathEvent = PathEvent, Told extends PathEvent = PathEvent> {
  readonly name: string;
  /** Raised when the rows change their shape: `load` then gets the version that wrote them. */
  readonly version: number;
  readonly owns: readonly Cell<unknown>[];
  /** Cells of earlier stages that it looks at. */
  readonly reads: readonly Cell<unknown>[];
  readonly hears: Hears<Heard, Told>;
  /** Types of acts that it decides on; of several stages each may refuse. */
  readonly acts?: readonly Act["type"][];
  /** Of the path's first stage: outcomes with another time belong to another step. Null: to the step that is going on. */
  stepMs?(event: Told): number | null;
  /** A line came into force; `was` is the one before. */
  useLine?(line: Line, was: Line | null, ctx: StageContext<Told>): void;
  /** Whether an act of an owned type can be taken: null, or why not. Changes nothing. */
  admit?(act: Act, ctx: StageContext<Told>): ActRefused | null;
  /** A deadline asked for with `wakeAt` is due. */
  wake?(key: string, ctx: StageContext<Told>): void;
  /** All events of the step have been heard. */
  afterStep?(ctx: StageContext<Told>): void;
  /** Rows that changed since the last call. */
  dirty(): Iterable<StateRow>;
  /** Goes on from rows; asks for its deadlines anew. False: rows of that version can't be read. */
  load(rows: ReadonlyMap<string, unknown>, fromVersion: number, ctx: StageContext<Told>): boolean;
  /** Begins with what the logbook knows, where `load` could not. */
  seed?(records: Records, ctx: StageContext<Told>): void;
}

/** A stage whose kinds of events the composer need not know. */
// biome-ignore lint/suspicious/noExplicitAny: what a stage hears and tells is checked where it is defined
export type AnyStage = Stage<any, any>;
