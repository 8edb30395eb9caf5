import type { BoardView } from "../path/index.ts";
import { nodeCell } from "../readings/index.ts";
import type { Verdict } from "./condition.ts";
import { overLimit } from "./held-against.ts";
import { factOf } from "./world-fact.ts";

/** By how much the calendar stands apart from engine time, ms: told when it was stepped. */
export const calendarOffset = { part: "clock", fact: "offset-ms" } as const;
const msPerMin = 60_000;
/** A step of the calendar is said for so long. */
const saidForMs = 60 * 60_000;

/** Whether the gateway's calendar was stepped by more than so many minutes. */
export function calendarStepped(board: BoardView, maxMin: number, nowMs: number): Verdict {
  const now = factOf(board, calendarOffset);
  if (typeof now?.value !== "number") return { is: false, value: null };
  const byMin = Math.abs(now.value - (typeof now.was === "number" ? now.was : 0)) / msPerMin;
  const endsMs = now.sinceMs + saidForMs;
  const is = byMin > maxMin && nowMs < endsMs;
  return { is, value: byMin, limit: maxMin, on: {}, againAtMs: endsMs };
}

/** A node's dates against when its packs were made. A node without dates has no clock that could be wrong. */
export function nodeDatesApart(board: BoardView, id: string, maxMin: number): Verdict {
  const node = board.get(nodeCell, id);
  if (node?.clockAheadMs == null || node.lastSeenMs === null)
    return { is: "unknown", value: null, because: "no-valid-reading" };
  return overLimit({ value: Math.abs(node.clockAheadMs) / msPerMin, tMs: node.lastSeenMs }, maxMin);
}
