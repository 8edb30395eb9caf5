import type { BoardView } from "../path/index.ts";
import { nodeCell } from "../readings/index.ts";
import type { NotJudged } from "./alarm.ts";

/** A new node is being set up: its first hour is nobody's alarm. */
const firstMs = 60 * 60_000;

/** For how long a node has been known in this run of it, ms; null: it did not say. */
export function nodeAgeMs(board: BoardView, id: string, nowMs: number): number | null {
  const startedAtMs = board.get(nodeCell, id)?.startedAtMs;
  return startedAtMs == null ? null : nowMs - startedAtMs;
}

/** Not judged in a node's first hour; null: it is. */
export function firstHourGate(board: BoardView, id: string, nowMs: number): NotJudged | null {
  const ageMs = nodeAgeMs(board, id, nowMs);
  return ageMs !== null && ageMs < firstMs ? "just-started" : null;
}
