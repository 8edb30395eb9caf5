import { z } from "zod";
import { nodeCell, worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { firstHourGate, nodeAgeMs } from "../node-age.ts";
import { nodesOf } from "../subject.ts";
import { fact, numberOf } from "../world-fact.ts";

/** Share of a node's packs of the last 15 min that were refused, percent; null while it sends none. */
const refused = (node: string) => ({ part: "refused", fact: node }) as const;
const dayMs = 24 * 60 * 60_000;

interface Limits {
  readonly over_percent: number;
}

/** Much of what a node sends can't be taken. */
export const readingsRefused: Condition<Limits, null> = {
  id: "readings-refused",
  subjectKinds: ["node"],
  words: {
    unit: "%",
    source: "common practice, no source",
    when: "more than 5 % of its packs of 15 min refused; over when none was for 15 min. Not in a node's first hour.",
    attention: "record; today if the node was heard for a day before",
  },
  settings: z.strictObject({
    over_percent: z.number().min(0).max(100).describe("percent from 0 to 100").optional(),
  }),
  defaults: () => ({ over_percent: 5 }),
  shownLimit: ({ over_percent }) => over_percent,
  subjects: nodesOf,
  place: () => null,
  reads: [worldCell, nodeCell],
  hears: (_place, { id }) => [fact(refused(id))],
  gate: ({ board, subject, nowMs }) => firstHourGate(board, subject.id, nowMs),
  judge({ board, subject, limits: { over_percent } }) {
    const value = numberOf(board, refused(subject.id));
    if (value === null) return { is: "unknown", value };
    // The share is of 15 min: over once it is nought.
    return { is: value > over_percent, value, limit: over_percent, beyond: value === 0 ? -1 : 0 };
  },
  on: () => ({}),
  off: () => ({}),
  deadband: () => 0,
  isLatching: false,
  attention: ({ board, subject, nowMs }) =>
    (nodeAgeMs(board, subject.id, nowMs) ?? 0) > dayMs ? "today" : "record",
};
