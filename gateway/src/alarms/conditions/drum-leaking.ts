import { z } from "zod";
import { driftCell } from "../../trends/index.ts";
import type { Condition } from "../condition.ts";
import { subjectOf } from "../subject.ts";

interface Limits {
  /** L/h. */
  readonly limit: number;
}
/** A slope within so many of its standard errors is none. */
const errors = 2;

/** A drum loses water though nobody draws. */
export const drumLeaking: Condition<Limits, null> = {
  id: "drum-leaking",
  subjectKinds: ["drum"],
  words: {
    unit: "L/h",
    source:
      "evaporation from 0.25 m² is 0.1 L/h at most; 1 L/h and 2 standard errors: common practice, no source",
    when: "the level falls by more than 1 L/h and 2 standard errors over 2 h at least in which nothing was asked for, came in or was drawn (a fall of more than 0.4 % of the drum in 5 min is a draw); over after 2 h without",
    attention: "today",
  },
  settings: z.strictObject({
    limit: z.number().min(0.1).max(100).describe("L/h from 0.1 to 100").optional(),
  }),
  defaults: () => ({ limit: 1 }),
  shownLimit: ({ limit }) => limit,
  subjects: (line) => line.drums.filter(({ level }) => level).map(({ id }) => subjectOf("drum", id)),
  place: () => null,
  reads: [driftCell],
  hears: (_place, { id }) => [{ cell: driftCell, key: id }],
  judge({ board, subject, limits: { limit } }) {
    const drift = board.get(driftCell, subject.id);
    if (!drift) return { is: "unknown", value: null };
    const value = -drift.litresPerHour;
    return { is: value > limit && value > errors * drift.errorLPerHour, value, limit, tMs: drift.toMs };
  },
  // The two hours are in the test itself.
  on: () => ({}),
  off: () => ({ elapsedMs: 2 * 3_600_000 }),
  isLatching: false,
  attention: () => "today",
  work: (_line, { id }) => [{ kind: "drum", id }],
};
