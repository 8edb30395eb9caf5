import { z } from "zod";
import { floatCell } from "../../fills/index.ts";
import { compileLine, type Line } from "../../line/index.ts";
import { median } from "../../statistics/index.ts";
import type { Condition } from "../condition.ts";
import { type AlarmSubject, floatsOf } from "../subject.ts";

interface Limits {
  /** Litres; null: by the drum and the room above the float. */
  readonly limit: number | null;
}
const settings = z.strictObject({ limit: z.number().positive().describe("litres over 0").optional() });
const trips = 5;
const leastShare = 0.02;
const shareOfRoom = 0.25;
const shareOfRoomToTell = 0.5;

const stopFloats = (line: Line): readonly AlarmSubject[] =>
  floatsOf(line).filter(({ id }) => compileLine(line).floats.get(id)?.float.role === "stop");

/** A stop float trips elsewhere than where it was set. */
export const tripDrift: Condition<Limits, { readonly volumeL: number }> = {
  id: "trip-drift",
  subjectKinds: ["float"],
  words: {
    unit: "L",
    source: "a slipping float: common practice, no source",
    when: "the median of its last 5 trips lies off where it was set, or first seen to trip, by more than 2 % of the drum or a quarter of the room above it. Over with a test",
    attention: "today; tell past half of the room",
  },
  settings,
  defaults: () => ({ limit: null }),
  shownLimit: ({ limit }) => limit,
  subjects: stopFloats,
  place: (line, { id }) => ({ volumeL: compileLine(line).floats.get(id)?.drum.volumeL ?? Number.NaN }),
  reads: [floatCell],
  hears: (_place, { id }) => [{ cell: floatCell, key: id }],
  judge({ board, subject, place: { volumeL }, limits, standing }) {
    const float = board.get(floatCell, subject.id);
    if (!float || float.setL === null || float.tripsL.length < trips)
      // A test takes back what was known of its trips: whoever held it in hand has answered for it.
      return standing
        ? { is: false, value: null }
        : { is: "unknown", value: null, because: "no-valid-reading" };
    const value = median(float.tripsL) - float.setL;
    const limit = limits.limit ?? Math.max(leastShare * volumeL, shareOfRoom * (volumeL - float.setL));
    return { is: Math.abs(value) > limit, value, limit };
  },
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention({ board, subject, place: { volumeL } }) {
    const float = board.get(floatCell, subject.id);
    if (!float || float.setL === null) return "today";
    const driftL = median(float.tripsL) - float.setL;
    return driftL > shareOfRoomToTell * (volumeL - float.setL) ? "tell" : "today";
  },
};
