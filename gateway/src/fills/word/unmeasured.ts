import type { Fill } from "../fill.ts";
import { litresIn, whole, worstDose } from "./book.ts";
import type { DrumWord } from "./drum-word.ts";
import { mostCalledL, mostL } from "./most-come.ts";
import type { TripKnown } from "./trip-known.ts";
import { toldAfterMs } from "./unseen.ts";

/**
 * κ25 × litres over the band that can have come: of a fill that runs for hours the mean tells nothing of what is left in its drum,
 * and good water before it and after it may not have come at all.
 */
function overDoseOf({ over, startedAtMs }: Fill, known: TripKnown, ms: number): number {
  if (!over) return 0;
  return over.dose25 * mostCalledL(known, Math.min(ms, over.share * (known.said.atMs - startedAtMs)));
}

/**
 * A fill runs of which nobody counts the litres: a float calls, or a level falls by a draw that hides what comes. The most that
 * can have come in since it began, as long as that would bring the drum over its band, litres; else 0. A probe that was
 * silent for less than 5 min hid nothing: that may be told yet.
 */
export function unmeasuredL(word: DrumWord, fill: Fill | null, known: TripKnown, feed25: number): number {
  const { band25 = null, said } = known;
  if (fill === null || fill.endedAtMs !== null || fill.flowUnknown || band25 === null) return 0;
  // One that a level counts from now on is known by time until its first litres are booked.
  const isBooked = fill.litres !== null && !(fill.bookedL === 0 && fill.watched > 0);
  if (isBooked) return 0;
  const toMs = fill.pausedSinceMs ?? said.atMs;
  const ms = toMs - Math.max(fill.startedAtMs, word.answeredMs);
  if (!(ms > 0)) return 0;
  const seen = fill.litres === null ? (fill.known ?? fill.watched) : fill.watched;
  const isOver = (fill.peak25 ?? fill.dose25 ?? 0) > band25;
  const unseen25 = (1 - seen) * ms > toldAfterMs ? (1 - seen) * feed25 : 0;
  const litres = mostL(known, ms);
  const parts = whole(word.book);
  const came = (isOver ? overDoseOf(fill, known, ms) : 0) + litres * unseen25;
  return came > 0 && worstDose(parts, { feed25, own25: band25 }) + came > band25 * litresIn(parts)
    ? litres
    : 0;
}
