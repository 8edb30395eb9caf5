import type { FlowPast } from "./flow-past.ts";

/** Calls of the floats behind a point, from the release to the trip. Plain data; absent in rows of versions before. */
export interface RunCalls {
  callSinceMs?: number | null;
  /** How long the last of them took, ms. */
  callsMs?: readonly number[];
}

const maxCalls = 8;
const leastCalls = 3;
/** A shorter call is none: the float was moved by hand. */
const leastCallMs = 30_000;
/** A call goes on for so much longer than the longest of those before where the house's pressure falls by half (√2, and some). */
const longerTimes = 1.5;
/** What stands for less is still the water that ran. */
const leastMs = 15 * 60_000;

/**
 * Goes on with the call, if only a float tells of water; true once it has outlasted all calls before: the supply is shut, the
 * float hangs, or more is drawn than ever. Whether water runs is not known then.
 */
export function outlastsCalls(calls: RunCalls, { basis, flowing }: FlowPast, atMs: number): boolean {
  const { callsMs = [], callSinceMs = null } = calls;
  if (basis !== "calling-float" || flowing !== true) {
    const ms = callSinceMs === null ? 0 : atMs - callSinceMs;
    const isOver = basis === "calling-float" && flowing === false && ms >= leastCallMs;
    if (isOver) calls.callsMs = [...callsMs, ms].slice(-maxCalls);
    calls.callSinceMs = null;
    return false;
  }
  calls.callSinceMs = callSinceMs ?? atMs;
  return atMs - calls.callSinceMs > longestMs(callsMs);
}

/** For how long a call is taken to bring water, by calls before, ms; infinite before three of them are known. */
export const longestMs = (callsMs: readonly number[]): number =>
  callsMs.length < leastCalls
    ? Number.POSITIVE_INFINITY
    : Math.max(leastMs, longerTimes * Math.max(...callsMs));
