import { z } from "zod";
import { type FloatNow, floatCell } from "../../fills/index.ts";
import type { Condition } from "../condition.ts";
import { floatsOf } from "../subject.ts";

interface Limits {
  readonly days: number | null;
}
const dayMs = 86_400_000;
const daysSince = ({ provedAtMs, firstMs }: FloatNow, ms: number) => (ms - (provedAtMs ?? firstMs)) / dayMs;

/** A float that nobody has seen work for long: it may have failed without anybody knowing. */
export const floatUnproven: Condition<Limits, null> = {
  id: "float-unproven",
  subjectKinds: ["float"],
  words: {
    unit: "d",
    source: "proof-test intervals after API 2350 (5th ed. 2020); monthly by hand: common practice, no source",
    when: "stop, start and low floats 90 days after their last proof (a good fill proves the stop float); overflow floats 30 days after a test by hand, 180 days after one in water; in a salt drum half of that; a new float after 7 days. Over with a proof",
    attention: "record",
  },
  settings: z.strictObject({
    days: z.number().min(1).max(1000).describe("days from 1 to 1000").optional(),
  }),
  defaults: () => ({ days: null }),
  shownLimit: ({ days }) => days,
  subjects: floatsOf,
  place: () => null,
  reads: [floatCell],
  hears: (_place, { id }) => [{ cell: floatCell, key: id }],
  judge({ board, subject, nowMs }) {
    const float = board.get(floatCell, subject.id);
    if (!float) return { is: "unknown", value: null, because: "never-heard" };
    const limit = Math.round(daysSince(float, float.dueAtMs));
    const value = Math.floor(daysSince(float, nowMs));
    return nowMs >= float.dueAtMs
      ? { is: true, value, limit }
      : { is: false, value, limit, againAtMs: float.dueAtMs };
  },
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention: () => "record",
};
