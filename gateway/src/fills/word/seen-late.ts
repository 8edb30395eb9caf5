import type { Fill } from "../fill.ts";
import { seeLate, whole } from "./book.ts";
import type { DrumWord, UnseenFill } from "./drum-word.ts";

const maxUnseen = 24;
const least = 1e-6;

/** Remembers a fill that has ended with something of it unseen, as long as some of that may be in the drum. */
export function noteUnseen(word: DrumWord, fill: Fill): void {
  const known = fill.known ?? fill.watched;
  const { byFill = {} } = whole(word.book);
  const others = (word.unseen ?? []).filter((one) => one.fill !== fill.id && one.fill in byFill);
  const { id, endedAtMs, litres, dose25 = null } = fill;
  const isNew = endedAtMs !== null && litres !== null && !fill.flowUnknown && id in byFill;
  word.unseen = isNew
    ? [...others, { fill: id, endedAtMs, litres, known, dose25 }].slice(-maxUnseen)
    : others;
}

/** The fill as it was told before, where it is told anew only because more of it was seen; null: it is another telling. */
function toldBefore({ unseen = [] }: DrumWord, fill: Fill): UnseenFill | null {
  const before = unseen.find((one) => one.fill === fill.id);
  if (!before || fill.flowUnknown) return null;
  return before.endedAtMs === fill.endedAtMs && before.litres === fill.litres ? before : null;
}

/**
 * What a probe's node had kept tells of a fill that was over: what of its water is still in the drum was seen after all.
 * False: the fill is told for another reason.
 */
export function takeSeenLate(word: DrumWord, fill: Fill): boolean {
  const before = toldBefore(word, fill);
  if (!before) return false;
  const known = fill.known ?? fill.watched;
  const more = known - before.known;
  if (more < least) return true;
  const dose = known * (fill.dose25 ?? 0) - before.known * (before.dose25 ?? 0);
  const share = more / (1 - before.known);
  word.book = seeLate(word.book, fill.id, { share, kappa25: Math.max(0, dose / more) });
  const { dose25 = null } = fill;
  word.unseen = (word.unseen ?? []).map((one) => (one === before ? { ...one, known, dose25 } : one));
  return true;
}
