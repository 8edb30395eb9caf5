import { z } from "zod";
import { witnessCell } from "../../fills/index.ts";
import type { Drum } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { lateReadingOf, onceCaughtUp, readingOf, series } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

interface Limits {
  /** Litres. */
  readonly limit: number;
}
const settings = z.strictObject({ limit: z.number().positive().describe("litres over 0").optional() });
/** The level needs so many readings; a float two wet ones within 2 min. */
const onByLevel = { readings: 3 };
/** Waves at the float are one occurrence. */
const overMs = 2 * 60_000;

interface Place {
  readonly float: string;
  readonly level: string;
  readonly witnesses: number;
}

/** Water at the overflow float, or over the drum's volume. Never gated, held until a person resets it. */
export const drumHighHigh: Condition<Limits, Place> = {
  id: "drum-high-high",
  subjectKinds: ["drum"],
  words: {
    unit: "L",
    source: "API 2350 (5th ed. 2020): a high-high level has its own sensor and is not reset by itself",
    when: "overflow float wet twice within 2 min, or last heard wet for 60 s where its news come late, or three levels over the drum's volume; held until reset by hand; does not ring a second time over a new `drum-not-stopping`",
    attention: "wake",
  },
  settings,
  defaults: (line, { id }) => ({
    limit: line.drums.find((drum) => drum.id === id)?.volumeL ?? Number.POSITIVE_INFINITY,
  }),
  shownLimit: ({ limit }) => limit,
  subjects: (line) => line.drums.map(({ id }) => subjectOf("drum", id)),
  place(line, { id }) {
    const drum = line.drums.find((candidate) => candidate.id === id) as Drum;
    return {
      float: `float/${id}.overflow/state`,
      level: `drum/${id}/volume`,
      witnesses: (drum.floats.some(({ role }) => role === "overflow") ? 1 : 0) + (drum.level ? 1 : 0),
    };
  },
  reads: [latestCell, witnessCell],
  hears: ({ float, level }) => [series(float), series(level)],
  judge({ board, place, limits: { limit }, standing, subject, nowMs }) {
    const float = readingOf(board, place.float);
    const level = readingOf(board, place.level);
    const value = level?.value ?? null;
    // Either witness is enough, and neither silences the other.
    const isReached = board.get(witnessCell, subject.id)?.overflow?.wetTwice === true;
    if (float && isReached) return { is: true, value, limit, tMs: float.tMs };
    if (!float && lateReadingOf(board, place.float, nowMs)?.value === 1)
      return { is: true, value, limit, on: onceCaughtUp };
    if (level && level.value > limit) return { is: true, value, limit, tMs: level.tMs, on: onByLevel };
    // One that speaks is enough to watch; to be over, every one must say so.
    const spoken = (float ? 1 : 0) + (level ? 1 : 0);
    return spoken < (standing ? place.witnesses : 1) ? { is: "unknown", value } : { is: false, value, limit };
  },
  on: () => ({}),
  off: () => ({ elapsedMs: overMs }),
  isLatching: true,
  attention: () => "wake",
};
