import type { BoardView } from "../path/index.ts";
import { factOf, numberOf } from "./world-fact.ts";

/** Free share of the disk, percent; days until it is full at the rate of the last day; "failed": nothing more is taken. */
const free = { part: "disk", fact: "free-percent" } as const;
const daysLeft = { part: "disk", fact: "days-left" } as const;
const journal = { part: "journal", fact: "state" } as const;

/** So little is told before it is nothing: share free, percent, or days left. */
const urgentPercent = 5;
const urgentDays = 1;

/** What is told of the disk of the data folder. */
export const diskFacts = [free, daysLeft, journal] as const;

/** It takes nothing more, or soon: there is still time to make room. */
export function isDiskUrgent(board: BoardView): boolean {
  if (factOf(board, journal)?.value === "failed") return true;
  const [percent, days] = [numberOf(board, free), numberOf(board, daysLeft)];
  return (percent !== null && percent < urgentPercent) || (days !== null && days < urgentDays);
}

/** How much room is left: `daysLeft` is infinite while nobody knows. Null: nothing is known of the disk. */
export function diskOf(
  board: BoardView,
): { readonly freePercent: number; readonly daysLeft: number; readonly isUrgent: boolean } | null {
  const freePercent = numberOf(board, free);
  if (freePercent === null) return null;
  const days = numberOf(board, daysLeft) ?? Number.POSITIVE_INFINITY;
  return { freePercent, daysLeft: days, isUrgent: isDiskUrgent(board) };
}
