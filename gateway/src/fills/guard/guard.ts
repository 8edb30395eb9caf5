import type { NotStopping } from "../fill.ts";

/** The rules of the stop guard, by number: past the trip, more than it holds, after the trip, with a wet float, at the brim. */
export type GuardReason = 1 | 2 | 3 | 4 | 5;

/** The stop has failed, by one of the rules. */
export interface StopFailed {
  readonly reason: GuardReason;
  readonly attention: "tell" | "wake";
  readonly sinceMs: number;
  /** What was seen and what would still be right: litres in the drum (1, 5) or litres that came in (2, 3, 4). */
  readonly litres: number | null;
  readonly limitL: number | null;
}

/** The fill is outside what its history explains. */
export interface FillIsLong {
  readonly sinceMs: number;
  readonly by: "litres" | "time";
  /** Litres, or minutes. */
  readonly value: number;
  readonly limit: number;
  readonly manual: boolean;
  /** Its float has just read wet: so long its second reading is waited for before anybody is told, ms; absent: not. */
  readonly waitsMs?: number;
  /** Its level only falls: the drum loses more than comes in, and no guard of its height tells of that; absent: not so. */
  readonly loses?: true;
}

/** Two witnesses of one drum contradict each other. */
export interface Disagreement {
  readonly sinceMs: number;
  readonly how:
    | "meter-misses"
    | "call-without-meter"
    | "call-without-level"
    | "litres-apart"
    | "level-stands";
  /** A witness is left that guards the drum. */
  readonly guarded: boolean;
  /** Seen once, by hand, where a bucket explains it as well. */
  readonly isOnce?: true;
}

/** A drum's guard: facts that conditions announce. Plain data; null where nothing is the matter. */
export interface Guard {
  readonly drum: string;
  readonly atMs: number;
  readonly notStopping: StopFailed | null;
  readonly long: FillIsLong | null;
  readonly disagrees: Disagreement | null;
  /** The drum calls, or a person fills it, and nothing comes, or hardly anything; `pumpRuns`: and a pump runs dry. */
  readonly noInflow: { readonly sinceMs: number; readonly pumpRuns?: boolean } | null;
  /** It fills, and what guards it can't be heard or believed. */
  readonly watchLost: {
    readonly sinceMs: number;
    readonly because: "nothing-tells-inflow" | "stop-float-silent" | "began-wet" | "level-stands";
    /** Water is seen to run into one that began with its float wet. */
    readonly runs?: true;
  } | null;
  /** Water comes in that nobody called for. */
  readonly unplanned: { readonly sinceMs: number; readonly litres: number } | null;
  /** Its float tripped minutes after a person said that they stopped: water runs on, as far as anybody can tell. */
  readonly runsOn: { readonly sinceMs: number } | null;
  /** What guards the drum beside its stop float, and is not itself in doubt. */
  readonly guardedBy: readonly ("level" | "overflow")[];
}

/** Told when something begins or ends to be the matter; what it is stands in the guard's cell. */
export interface GuardChange {
  readonly kind: "guard";
  readonly drum: string;
  readonly guard: Guard;
}

/** Whether the same is the matter, figures left aside: what is told anew when it changes. Undefined: nothing was told. */
export function isSameMatter(guard: Guard, was: Guard | undefined): boolean {
  if (!was) return false;
  return (
    guard.notStopping?.reason === was.notStopping?.reason &&
    guard.notStopping?.attention === was.notStopping?.attention &&
    (guard.long === null) === (was.long === null) &&
    guard.long?.loses === was.long?.loses &&
    guard.disagrees?.how === was.disagrees?.how &&
    guard.disagrees?.isOnce === was.disagrees?.isOnce &&
    (guard.noInflow === null) === (was.noInflow === null) &&
    guard.noInflow?.pumpRuns === was.noInflow?.pumpRuns &&
    guard.watchLost?.because === was.watchLost?.because &&
    guard.watchLost?.runs === was.watchLost?.runs &&
    (guard.unplanned === null) === (was.unplanned === null) &&
    (guard.runsOn === null) === (was.runsOn === null) &&
    guard.guardedBy.length === was.guardedBy.length &&
    guard.guardedBy.every((by, index) => was.guardedBy[index] === by)
  );
}

/** The name of each rule in a fill's record. */
export const reasonNames: Readonly<Record<GuardReason, NotStopping>> = {
  1: "past-trip-volume",
  2: "more-than-it-holds",
  3: "goes-on-after-trip",
  4: "begins-with-wet-float",
  5: "at-the-brim",
};
