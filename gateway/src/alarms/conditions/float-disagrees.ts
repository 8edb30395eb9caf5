import { z } from "zod";
import { type BatchState, batchCell, type FloatNow, floatCell, witnessCell } from "../../fills/index.ts";
import { compileLine, type Drum, type Float, type Line } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition, Look, Verdict } from "../condition.ts";
import { readingOf, series } from "../reading-of.ts";
import { floatsOf } from "../subject.ts";

interface Limits {
  /** Litres; null: 4 % of the drum, or 3 standard deviations of its level. */
  readonly limit: number | null;
}
interface Place {
  readonly drum: Drum;
  readonly float: Float;
  /** The series of the drum's overflow float, where this is its stop float. */
  readonly overflow: string | null;
  readonly own: string;
  readonly level: string;
  readonly hasLevel: boolean;
  /** A level by pressure reads salt water too high: it is believed only while there is none in the drum. */
  readonly onlyFresh: boolean;
}
const settings = z.strictObject({ limit: z.number().positive().describe("litres over 0").optional() });
const byFloat = { elapsedMs: 10_000 };
const byLevel = { elapsedMs: 120_000 };
const marginShare = 0.04;
/** States of a batch in which no salt is in the drum. */
const fresh: ReadonlySet<BatchState> = new Set(["empty", "filling", "fresh"]);

function placeOf(line: Line, id: string): Place {
  const { drum, float } = compileLine(line).floats.get(id) as { drum: Drum; float: Float };
  const overflow = drum.floats.find(({ role }) => role === "overflow");
  return {
    drum,
    float,
    overflow: float.role === "stop" && overflow ? `float/${overflow.id}/state` : null,
    own: `float/${id}/state`,
    level: `drum/${drum.id}/volume`,
    hasLevel: drum.level !== null,
    onlyFresh: drum.holds === "salt" && drum.level?.as === "pressure",
  };
}

/** Where it trips and releases, litres; null where nobody knows. */
function heightsOf({ tripsAtL, releasesAtL }: Float, now: FloatNow | undefined, release: number | null) {
  const tripL = now?.setL ?? tripsAtL;
  return { tripL, releaseL: releasesAtL ?? release };
}

function againstLevel({ board, place, limits }: Look<Limits, Place>, isWet: boolean): Verdict | null {
  const { drum, float, onlyFresh } = place;
  if (onlyFresh && !fresh.has(board.get(batchCell, drum.id)?.state ?? "unknown")) return null;
  const said = board.get(witnessCell, drum.id);
  // As it was read: a level that contradicts its float is no witness of inflow, and yet one of the two is wrong.
  const level = place.hasLevel ? readingOf(board, place.level) : null;
  if (!level) return null;
  const release = float.role === "stop" ? (said?.stop?.releasesAtL ?? null) : null;
  const { tripL, releaseL } = heightsOf(float, board.get(floatCell, float.id), release);
  const height = isWet ? releaseL : tripL;
  if (height === null) return null;
  const limit = limits.limit ?? Math.max(marginShare * drum.volumeL, 3 * (said?.level?.sigmaL ?? 0));
  const value = isWet ? height - level.value : level.value - height;
  return { is: value > limit, value, limit, on: byLevel };
}

/** A float says one thing, and another float or the level says that this can't be. */
export const floatDisagrees: Condition<Limits, Place> = {
  id: "float-disagrees",
  subjectKinds: ["float"],
  words: {
    unit: "L",
    source:
      "level past the float by 3 standard deviations, or the higher float wet and the lower dry: common practice, no source",
    when: "the overflow float is wet while the stop float is dry for 10 s; or for 2 min the level lies more than 4 % of the drum past where the float trips while it is dry, or under where it releases while it is wet. Over after 60 s of agreement. Not by a level of pressure while salt is in the drum",
    attention: "tell; today where only the level says so",
  },
  settings,
  defaults: () => ({ limit: null }),
  shownLimit: ({ limit }) => limit,
  subjects: floatsOf,
  place: (line, { id }) => placeOf(line, id),
  reads: [latestCell, witnessCell, floatCell, batchCell],
  hears: ({ own, overflow, level, hasLevel, onlyFresh, drum }) => [
    ...(onlyFresh ? [{ cell: batchCell, key: drum.id }] : []),
    series(own),
    ...(overflow === null ? [] : [series(overflow)]),
    ...(hasLevel ? [series(level)] : []),
  ],
  judge(look) {
    const { board, place } = look;
    const own = readingOf(board, place.own);
    if (!own) return { is: "unknown", value: null };
    const overflow = place.overflow === null ? null : readingOf(board, place.overflow);
    if (overflow?.value === 1 && own.value === 0) return { is: true, value: null };
    return (
      againstLevel(look, own.value === 1) ??
      (overflow ? { is: false, value: null } : { is: "unknown", value: null })
    );
  },
  on: () => byFloat,
  off: () => ({ elapsedMs: 60_000 }),
  isLatching: false,
  attention({ board, place }) {
    const overflow = place.overflow === null ? null : readingOf(board, place.overflow);
    return overflow?.value === 1 && readingOf(board, place.own)?.value === 0 ? "tell" : "today";
  },
};
