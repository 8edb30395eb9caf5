import { type Latest, latestCell } from "../measurements/index.ts";
import type { BoardView } from "../path/index.ts";
import type { Heard } from "./condition.ts";

/** A measurement with a value that can be judged. */
export interface ValidReading {
  readonly value: number;
  readonly tMs: number;
}

function valid({ measurement }: Latest): ValidReading | null {
  const { value, flag, tMs } = measurement;
  return value === null || flag === 4 || flag === 9 ? null : { value, tMs };
}

/** What a series says now; null where it is silent, or where it failed or is missing (flag 4 or 9). */
export function readingOf(board: BoardView, series: string): ValidReading | null {
  const latest = board.get(latestCell, series);
  return latest && !latest.gone ? valid(latest) : null;
}

/** What a series said last, within `maxAgeMs` of now, whether it is followed or not. */
export function lastReadingOf(
  board: BoardView,
  series: string,
  nowMs: number,
  maxAgeMs: number,
): ValidReading | null {
  const latest = board.get(latestCell, series);
  const found = latest ? valid(latest) : null;
  return found && nowMs - found.tMs <= maxAgeMs ? found : null;
}

/** What came late tells of danger for so long. */
const lateMs = 15 * 60_000;

/**
 * Whether a float or floor sensor was last heard wet, where that had waited in its node and nothing newer came: good news of
 * then is none of now, water where none may be is believed until something speaks against it.
 */
export function isWetLate(board: BoardView, series: string, nowMs: number): boolean {
  const latest = board.get(latestCell, series);
  if (!latest?.gone || latest.lateSinceMs === undefined) return false;
  const found = valid(latest);
  return found?.value === 1 && nowMs - found.tMs <= lateMs;
}

/** What waited in a node has come within this time: what it said last still stands. */
export const onceCaughtUp = { elapsedMs: 60_000 };

/** A series that a condition hears. */
export const series = (name: string): Heard => ({ cell: latestCell, key: name });
