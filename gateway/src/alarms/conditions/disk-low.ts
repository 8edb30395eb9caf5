import { z } from "zod";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { theGateway } from "../subject.ts";
import { fact, factOf, numberOf } from "../world-fact.ts";

/** Free share of the disk, percent; days until it is full at the rate of the last day; "failed": nothing more is taken. */
const free = { part: "disk", fact: "free-percent" } as const;
const daysLeft = { part: "disk", fact: "days-left" } as const;
const journal = { part: "journal", fact: "state" } as const;

interface Limits {
  readonly free_percent: number;
  readonly days: number;
}
const delay = { elapsedMs: 10 * 60_000 };

/** The disk of the data folder is nearly full. */
export const diskLow: Condition<Limits, null> = {
  id: "disk-low",
  subjectKinds: ["gateway"],
  words: {
    title: "The disk is nearly full",
    unit: "%",
    cause: "Something else fills the disk, or it is too small for what is kept.",
    consequence: "A full disk takes nothing more: nodes keep their packs, and nothing is judged.",
    response: "Make room on the disk of the data folder, or let less be kept.",
    source: "common practice, no source",
    when: "under 15 % free, or under 7 days left at the present rate, for 10 min; over 20 % for 10 min",
    attention: "record; tell once it takes nothing more",
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
    const isRefusing = factOf(board, journal)?.value === "failed";
    const is = value < limits.free_percent || days < limits.days || isRefusing;
    return {
      is,
      value,
      limit: limits.free_percent,
      beyond: limits.free_percent - value,
      ...(isRefusing ? { on: {} } : {}),
    };
  },
  on: () => delay,
  off: () => delay,
  deadband: () => 5,
  isLatching: false,
  attention: ({ board }) => (factOf(board, journal)?.value === "failed" ? "tell" : "record"),
};
