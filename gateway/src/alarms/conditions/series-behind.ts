import { z } from "zod";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { theGateway } from "../subject.ts";
import { fact, numberOf } from "../world-fact.ts";

const behind = { part: "influx", fact: "behind-minutes" } as const;

interface Limits {
  readonly minutes: number;
}

/** The database that readings are sent on to has not had everything for a while. */
export const seriesBehind: Condition<Limits, null> = {
  id: "series-behind",
  subjectKinds: ["gateway"],
  words: {
    unit: "min",
    source: "common practice, no source",
    when: "for 10 min not everything was sent; over once everything is. Gateways with InfluxDB.",
    attention: "record",
  },
  settings: z.strictObject({
    minutes: z.number().min(5).max(10_080).describe("minutes from 5 to 10080").optional(),
  }),
  defaults: () => ({ minutes: 10 }),
  shownLimit: ({ minutes }) => minutes,
  subjects: () => [theGateway],
  place: () => null,
  reads: [worldCell],
  hears: () => [fact(behind)],
  judge({ board, limits: { minutes: limit } }) {
    // A gateway without InfluxDB says nothing of it, and is not behind.
    const value = numberOf(board, behind) ?? 0;
    return { is: value >= limit, value, limit, beyond: value - limit };
  },
  on: () => ({}),
  off: () => ({}),
  // Told in whole minutes: over at none.
  deadband: (_limits, limit) => limit - 1,
  isLatching: false,
  attention: () => "record",
};
