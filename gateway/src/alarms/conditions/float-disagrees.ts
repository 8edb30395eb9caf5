import { batchCell, floatCell, witnessCell } from "../../fills/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import {
  againstLevel,
  besideFloat,
  type FloatBeside,
  hearsBesideFloat,
  isHigherWet,
  onByLevel,
} from "../float-against.ts";
import { limitOver0, type OneLimitOrNone, shownLimit } from "../one-limit.ts";
import { readingOf } from "../reading-of.ts";
import { floatsOf } from "../subject.ts";

/** A float says one thing, and another float or the level says that this can't be. */
export const floatDisagrees: Condition<OneLimitOrNone, FloatBeside> = {
  id: "float-disagrees",
  subjectKinds: ["float"],
  words: {
    unit: "L",
    source:
      "level past the float by 3 standard deviations, or the higher float wet and the lower dry: common practice, no source",
    when: "the overflow float is wet while the stop float is dry for 10 s; or for 2 min the level lies more than 4 % of the drum past where the float trips while it is dry, or under where it releases while it is wet. Over after 60 s of agreement. Not by a level of pressure while salt is in the drum",
    attention: "tell; today where only the level says so",
  },
  settings: limitOver0("litres"),
  // 4 % of the drum, or 3 standard deviations of its level.
  defaults: () => ({ limit: null }),
  shownLimit,
  subjects: floatsOf,
  place: (line, { id }) => besideFloat(line, id),
  reads: [latestCell, witnessCell, floatCell, batchCell],
  hears: hearsBesideFloat,
  judge({ board, place, limits }) {
    const own = readingOf(board, place.own);
    if (!own) return { is: "unknown", value: null };
    if (isHigherWet(board, place)) return { is: true, value: null };
    const against = againstLevel(board, place, own.value === 1);
    const limit = limits.limit ?? against?.limitL ?? null;
    if (against && limit !== null)
      return { is: against.pastL > limit, value: against.pastL, limit, on: onByLevel };
    const isHigherHeard = place.overflow !== null && readingOf(board, place.overflow) !== null;
    return { is: isHigherHeard ? false : "unknown", value: null };
  },
  on: () => ({ elapsedMs: 10_000 }),
  off: () => ({ elapsedMs: 60_000 }),
  isLatching: false,
  attention: ({ board, place }) => (isHigherWet(board, place) ? "tell" : "today"),
};
