import { z } from "zod";
import type { BoardView } from "../../path/index.ts";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { theGateway } from "../subject.ts";
import { fact, factOf, numberOf } from "../world-fact.ts";

/** Free share of the disk, percent; days until it is full at the rate of the last day; "failed": nothing more is taken. */
const free = { part: "disk", fact: "free-percent" } as const;
const daysLeft = { part: "disk", fact: "days-left" } as const;
const journal = { part: "journal", fact: "state" } as const;

/** So little is told before it is nothing: share free, percent, or days left. */
const urgentPercent = 5;
const urgentDays = 1;

interface Limits {
  readonly free_percent: number;
  readonly days: number;
}
const delay = { elapsedMs: 10 * 60_000 };

/** It takes nothing more, or soon: there is still time to make room. */
function isUrgent(board: BoardView): boolean {
  if (factOf(board, journal)?.value === "failed") return true;
  const [percent, days] = [numberOf(board, free), numberOf(board, daysLeft)];
  return (percent !== null && percent < urgentPercent) || (days !== null && days < urgentDays);
}

/** The disk of the data folder is nearly full. */
export const diskLow: Condition<Limits, null> = {
  id: "disk-low",
  subjectKinds: ["gateway"],
  words: {
    unit: "%",
    source: "common practice, no source",
    when: "under 15 % free, or under 7 days left at the present rate, for 10 min; at once under 5 % or a day; over 20 % for 10 min",
    attention: "record; tell under 5 % or a day, and once it takes nothing more",
  },
  settings: z.strictObject({
    free_percent: z.number().min(1).max(90).describe("percent from 1 to 90").optional(),
    days: z.number().min(1).max(365).describe("days from 1 to 365").optional(),
  }),
  defaults: () => ({ free_percent: 15, days: 7 }),
  shownLimit: ({ free_percent }) => free_percent,
  subjects: () => [theGateway],
  place: () => null,
  reads: [worldCell],
  hears: () => [fact(free), fact(daysLeft), fact(journal)],
  judge({ board, limits }) {
    const value = numberOf(board, free);
    if (value === null) return { is: "unknown", value };
    const days = numberOf(board, daysLeft) ?? Number.POSITIVE_INFINITY;
    const urgent = isUrgent(board);
    const is = value < limits.free_percent || days < limits.days || urgent;
    return {
      is,
      value,
      limit: limits.free_percent,
      beyond: limits.free_percent - value,
      ...(urgent ? { on: {} } : {}),
    };
  },
  on: () => delay,
  off: () => delay,
  deadband: () => 5,
  isLatching: false,
  attention: ({ board }) => (isUrgent(board) ? "tell" : "record"),
};
