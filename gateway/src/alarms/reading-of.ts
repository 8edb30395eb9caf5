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

/** A series that a condition hears. */
export const series = (name: string): Heard => ({ cell: latestCell, key: name });
