import { z } from "zod";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { isWetLate, onceCaughtUp, readingOf, series } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

/** Water on the floor. Never gated, held until a person resets it. */
export const floorWet: Condition<object, string> = {
  id: "floor-wet",
  subjectKinds: ["floor"],
  words: {
    unit: "",
    source: "last layer of protection: common practice, no source",
    when: "floor sensor wet for 3 s, or last heard wet for 60 s where its readings come late; held until reset by hand",
    attention: "wake",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: (line) => line.floors.map(({ id }) => subjectOf("floor", id)),
  place: (_line, { id }) => `floor/${id}/state`,
  reads: [latestCell],
  hears: (own) => [series(own)],
  judge({ board, place, nowMs }) {
    const reading = readingOf(board, place);
    if (!reading && isWetLate(board, place, nowMs)) return { is: true, value: null, on: onceCaughtUp };
    return reading ? { is: reading.value === 1, value: null } : { is: "unknown", value: null };
  },
  on: () => ({ elapsedMs: 3000 }),
  off: () => ({}),
  isLatching: true,
  attention: () => "wake",
  work: (_line, { id }) => [{ kind: "floor", id }],
};
