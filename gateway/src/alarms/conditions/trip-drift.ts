import { floatCell } from "../../fills/index.ts";
import { compileLine } from "../../line/index.ts";
import type { Condition } from "../condition.ts";
import { driftOf } from "../drift-of.ts";
import { limitOver0, type OneLimitOrNone, shownLimit } from "../one-limit.ts";
import { stopFloatsOf } from "../subject.ts";

/** It is told past such a share of the drum, or of the room above the float; more urgently past half of that room. */
const shareOfDrum = 0.02;
const shareOfRoom = 0.25;
const shareOfRoomToTell = 0.5;

/** A stop float trips elsewhere than where it was set. */
export const tripDrift: Condition<OneLimitOrNone, { readonly volumeL: number }> = {
  id: "trip-drift",
  subjectKinds: ["float"],
  words: {
    unit: "L",
    source: "a slipping float: common practice, no source",
    when: "the median of its last 5 trips lies off where it was set, or first seen to trip, by more than 2 % of the drum or a quarter of the room above it. Over with a test",
    attention: "today; tell past half of the room",
  },
  settings: limitOver0("litres"),
  // By the drum and the room above the float.
  defaults: () => ({ limit: null }),
  shownLimit,
  subjects: stopFloatsOf,
  place: (line, { id }) => ({ volumeL: compileLine(line).floats.get(id)?.drum.volumeL ?? Number.NaN }),
  reads: [floatCell],
  hears: (_place, { id }) => [{ cell: floatCell, key: id }],
  judge({ board, subject, place: { volumeL }, limits, standing }) {
    const drift = driftOf(board.get(floatCell, subject.id), volumeL);
    if (!drift)
      // A test takes back what was known of its trips: whoever held it in hand has answered for it.
      return standing
        ? { is: false, value: null }
        : { is: "unknown", value: null, because: "no-valid-reading" };
    const limit = limits.limit ?? Math.max(shareOfDrum * volumeL, shareOfRoom * drift.roomL);
    return { is: Math.abs(drift.litres) > limit, value: drift.litres, limit };
  },
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention({ board, subject, place: { volumeL } }) {
    const drift = driftOf(board.get(floatCell, subject.id), volumeL);
    return drift && drift.litres > shareOfRoomToTell * drift.roomL ? "tell" : "today";
  },
};
