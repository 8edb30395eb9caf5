import { z } from "zod";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { diskFacts, diskOf, isDiskUrgent } from "../disk-room.ts";
import { theGateway } from "../subject.ts";
import { fact } from "../world-fact.ts";

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
  hears: () => diskFacts.map(fact),
  judge({ board, limits: { free_percent: limit, days } }) {
    const disk = diskOf(board);
    if (disk === null) return { is: "unknown", value: null };
    const { freePercent: value, isUrgent } = disk;
    const is = value < limit || disk.daysLeft < days || isUrgent;
    return { is, value, limit, beyond: limit - value, ...(isUrgent ? { on: {} } : {}) };
  },
  on: () => delay,
  off: () => delay,
  deadband: () => 5,
  isLatching: false,
  attention: ({ board }) => (isDiskUrgent(board) ? "tell" : "record"),
};
