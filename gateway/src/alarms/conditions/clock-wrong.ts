import { z } from "zod";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { theGateway } from "../subject.ts";
import { fact, factOf } from "../world-fact.ts";

/** By how much the calendar stands apart from engine time, ms: told when it was stepped. */
const offset = { part: "clock", fact: "offset-ms" } as const;
const standsMs = 60 * 60_000;
const msPerMin = 60_000;

interface Limits {
  readonly step_min: number;
}

/** The gateway's clock was set by more than a few minutes: dates of before and after do not fit together. */
export const clockWrong: Condition<Limits, null> = {
  id: "clock-wrong",
  subjectKinds: ["gateway"],
  words: {
    title: "The gateway's clock was set",
    unit: "min",
    cause: "The machine's clock was wrong, or is now: no network time, an empty clock battery.",
    consequence: "Dates of what happened before and after do not fit together; nothing is lost.",
    response:
      "Compare the time on this page with your own, and let the machine set its clock by the network.",
    source: "common practice, no source",
    when: "the calendar was stepped by more than 5 min; said for an hour",
    attention: "record",
  },
  settings: z.strictObject({
    step_min: z.number().min(1).max(1440).describe("minutes from 1 to 1440").optional(),
  }),
  defaults: () => ({ step_min: 5 }),
  shownLimit: ({ step_min }) => step_min,
  subjects: () => [theGateway],
  place: () => null,
  reads: [worldCell],
  hears: () => [fact(offset)],
  judge({ board, limits: { step_min }, nowMs }) {
    const now = factOf(board, offset);
    if (typeof now?.value !== "number") return { is: false, value: null };
    const byMin = Math.abs(now.value - (typeof now.was === "number" ? now.was : 0)) / msPerMin;
    const endsMs = now.sinceMs + standsMs;
    return { is: byMin > step_min && nowMs < endsMs, value: byMin, limit: step_min, againAtMs: endsMs };
  },
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention: () => "record",
};
