import { z } from "zod";
import { floatCell } from "../../fills/index.ts";
import type { Condition } from "../condition.ts";
import { floatsOf } from "../subject.ts";

interface Limits {
  readonly changes_per_min: number;
}
const minuteMs = 60_000;

/** A float that changes over again and again. */
export const floatChatter: Condition<Limits, null> = {
  id: "float-chatter",
  subjectKinds: ["float"],
  words: {
    unit: "/min",
    source: "more than 3 transitions a minute, 3 s of slosh left out: common practice, no source",
    when: "more than 3 changes a minute for 2 min, by the node's own count where it sends one, those within 3 s of each other counted once. Over after 10 min without any",
    attention: "record",
  },
  settings: z.strictObject({
    changes_per_min: z.number().min(1).max(15).describe("changes a minute from 1 to 15").optional(),
  }),
  defaults: () => ({ changes_per_min: 3 }),
  shownLimit: ({ changes_per_min }) => changes_per_min,
  subjects: floatsOf,
  place: () => null,
  reads: [floatCell],
  hears: (_place, { id }) => [{ cell: floatCell, key: id }],
  judge({ board, subject, limits: { changes_per_min: limit }, nowMs }) {
    const float = board.get(floatCell, subject.id);
    if (!float || float.wet === null) return { is: "unknown", value: null, because: "never-heard" };
    const lately = float.changesMs.filter((ms) => ms > nowMs - minuteMs);
    const [first] = lately;
    const value = lately.length;
    const verdict = { is: value > limit, value, limit, beyond: value - limit };
    return first === undefined ? verdict : { ...verdict, againAtMs: first + minuteMs };
  },
  on: () => ({ elapsedMs: 2 * minuteMs }),
  off: () => ({ elapsedMs: 10 * minuteMs }),
  // Over once there is none: one is near.
  deadband: (_limits, limit) => limit - 1,
  isLatching: false,
  attention: () => "record",
};
