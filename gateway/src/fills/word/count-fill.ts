import type { Fill } from "../fill.ts";
import {
  anchor,
  litresIn,
  mixed,
  nothing,
  type Parts,
  pour,
  times,
  whole,
  withinVolume,
  worstSeen25,
} from "./book.ts";
import type { DrumWord } from "./drum-word.ts";
import { missedDose } from "./miscounted.ts";
import { mostCalledL } from "./most-come.ts";
import { noteUnseen } from "./seen-late.ts";
import { spanL, type TripKnown, tripL } from "./trip-known.ts";
import { noteUnasked } from "./unasked.ts";

/** A stop float of unknown height trips with the drum at least so full (common practice, no source). */
const leastTripShare = 0.5;
/** A fill of which more than this was not seen counts whole where its litres are not known. */
const unseenAllowed = 0.05;
/** An anchor and the book may differ by this share of the drum before something unseen came in. */
export const slackShare = 0.03;

/** A book that is so near to the volume was brought down to it. */
const leastL = 0.01;

/** Of what came in, what was not drawn as it came. */
function unspent(word: DrumWord, come: Parts): Parts {
  const litres = litresIn(come);
  const goneL = Math.min(word.spentL ?? 0, litres);
  if (!(goneL > 0)) return come;
  word.spentL = (word.spentL ?? 0) - goneL;
  return times(come, 1 - goneL / litres);
}

type Amounts = Omit<NonNullable<DrumWord["counted"]>, "fill" | "shortDose" | "was25">;

function add(word: DrumWord, fill: Fill, known: TripKnown, amounts: Amounts): void {
  const before: Partial<NonNullable<DrumWord["counted"]>> & Amounts =
    word.counted?.fill === fill.id ? word.counted : { watchedL: 0, dose: 0, unwatchedL: 0, missedL: 0 };
  const was25 = before.was25 ?? worstSeen25(whole(word.book));
  const moreL = amounts.watchedL - before.watchedL + amounts.unwatchedL - before.unwatchedL;
  const contentsL = litresIn(whole(word.book)) + moreL;
  const shortDose = missedDose(fill, known, { amounts, was25, contentsL });
  const missedL = (amounts.missedL ?? 0) - (before.missedL ?? 0);
  const come = {
    ...nothing,
    watchedL: amounts.watchedL - before.watchedL,
    dose: amounts.dose - before.dose,
    shortDose: shortDose - (before.shortDose ?? 0),
    unwatchedL: amounts.unwatchedL - before.unwatchedL,
    // No probe has seen what came in beside the line.
    byFill: { [fill.id]: amounts.unwatchedL - before.unwatchedL - missedL },
  };
  word.book = pour(word.book, unspent(word, come));
  word.movedL +=
    Math.abs(amounts.watchedL - before.watchedL) + Math.abs(amounts.unwatchedL - before.unwatchedL);
  word.counted = { fill: fill.id, ...amounts, ...(shortDose > 0 ? { shortDose } : {}), was25 };
}

/** Litres of a fill that nothing counts, by what is known of the float and of the drum; null: not known. */
function litresByTrip(word: DrumWord, fill: Fill, known: TripKnown): number | null {
  const tripped = fill.end === "float-tripped";
  const inIt = litresIn(whole(word.book));
  const top = tripL(known);
  if (tripped && word.book.isTight) return Math.max(0, (top ?? leastTripShare * known.drum.volumeL) - inIt);
  return tripped ? spanL(known) : null;
}

/** The most that a fill of unknown litres can have brought, L: no faster than water ever came, no more than fits. */
function mostIn({ startedAtMs, endedAtMs }: Fill, known: TripKnown): number {
  const fitsL = spanL(known) ?? tripL(known) ?? known.drum.volumeL;
  const flow = known.said.greatestFlowLPerMin ?? null;
  if (flow === null || endedAtMs === null) return fitsL;
  return Math.min(fitsL, (flow * (endedAtMs - startedAtMs)) / 60_000);
}

/** The same of what was over the band, where its mean is not: 0 where that brings the drum no way over its band, L. */
function mostOver(word: DrumWord, fill: Fill, known: TripKnown): number {
  const { over, peak25 } = fill;
  const { band25 = null } = known;
  if (band25 === null || !over || !((peak25 ?? 0) > band25)) return 0;
  const ms = over.share * ((fill.endedAtMs ?? known.said.atMs) - fill.startedAtMs);
  const parts = whole(word.book);
  const inIt = litresIn(parts);
  const litres = Math.min(mostCalledL(known, ms), mostIn(fill, known), inIt);
  const worst = worstSeen25(parts) * (inIt - litres) + over.dose25 * litres;
  return worst > band25 * inIt ? litres : 0;
}

function countUnmeasured(word: DrumWord, fill: Fill, known: TripKnown): void {
  const share = fill.known ?? fill.watched;
  const { drum } = known;
  const top = tripL(known) ?? drum.volumeL;
  const litres = fill.flowUnknown ? null : litresByTrip(word, fill, known);
  if (litres !== null && fill.dose25 != null) {
    add(word, fill, known, {
      watchedL: litres * share,
      dose: litres * share * fill.dose25,
      unwatchedL: litres * (1 - share),
    });
    return;
  }
  // Litres unknown: watched water dilutes nothing, unwatched water counts the whole trip volume.
  if (fill.flowUnknown || share < 1 - unseenAllowed) {
    const mostL = spanL(known) ?? top;
    add(word, fill, known, { watchedL: 0, dose: 0, unwatchedL: mostL });
    return;
  }
  // What is over the band brings the drum nearer to it with each litre, and nobody knows how many came.
  const isOver = known.band25 != null && fill.dose25 != null && fill.dose25 > known.band25;
  const mostL = isOver ? mostIn(fill, known) : mostOver(word, fill, known);
  if (mostL > 0) add(word, fill, known, { watchedL: 0, dose: 0, unwatchedL: mostL });
  if (known.band25 == null) noteUnasked(word, fill, mostIn(fill, known));
}

/** A float that is taken to have asked for a fill turned dry no later than so long before it was seen to begin. */
const callsBeforeMs = 60_000;

/** A level alone saw it, and the float of a drum that fills itself hung wet all the while: nobody knows whose water it was. */
function isUncalled(fill: Fill, { drum, said: { stop, meters } }: TripKnown): boolean {
  if (drum.control !== "automatic" || fill.basis !== "level") return false;
  if (meters.some(({ flowing }) => flowing !== null)) return false;
  return stop?.heard === true && stop.wet === true && stop.sinceMs < fill.startedAtMs - callsBeforeMs;
}

/** Brings what a fill has brought so far into the book; at its end with what the end tells. */
export function countFill(word: DrumWord, fill: Fill, known: TripKnown): void {
  const ended = fill.endedAtMs !== null;
  const { drum } = known;
  // A drum that was emptied took all that fits, not only what its float's span says.
  const isFromEmpty = fill.basis === "calling-float" && word.book.isTight;
  if (fill.litres !== null && !fill.flowUnknown && !isFromEmpty) {
    // What a silence hid is booked by how long that was: not once more with the fill.
    const heardL = fill.litres - (fill.unheardL ?? 0);
    const seenL = Math.min(heardL, fill.litres * (fill.known ?? fill.watched));
    const share = isUncalled(fill, known) || !(heardL > 0) ? 0 : seenL / heardL;
    const litres = ended ? heardL : (fill.bookedL ?? fill.litres);
    const dose = fill.dose25 == null ? 0 : litres * share * fill.dose25;
    const { missedL = 0 } = fill;
    add(word, fill, known, {
      watchedL: litres * share,
      dose,
      unwatchedL: litres * (1 - share) + missedL,
      missedL,
    });
  } else if (fill.flowUnknown && fill.litres !== null && !isFromEmpty)
    add(word, fill, known, {
      watchedL: 0,
      dose: 0,
      unwatchedL: Math.max(fill.litres, ended ? (spanL(known) ?? 0) : 0),
    });
  else if (ended) countUnmeasured(word, fill, known);
  if (ended && !isUncalled(fill, known)) noteUnseen(word, fill, known.said);
  if (ended) endFill(word, fill, known);
  const bookedL = litresIn(whole(word.book));
  word.book = withinVolume(word.book, drum.volumeL);
  if (ended && litresIn(whole(word.book)) > drum.volumeL - leastL) word.book = mixed(word.book);
  // A level tells of a long draw when it is over: what the book lost meanwhile is part of it.
  if (known.said.level) word.cutL = (word.cutL ?? 0) + bookedL - litresIn(whole(word.book));
}

/** A trip tells how much is in the drum, where no level does. */
function endFill(word: DrumWord, fill: Fill, { drum, said }: TripKnown): void {
  word.everFilled = true;
  const isTripped = fill.end === "float-tripped" && !fill.flowUnknown;
  if (isTripped && said.level?.litres == null) {
    if (word.book.isTight && fill.litres !== null && fill.tripConfirmed === true)
      word.tripByBookL = litresIn(whole(word.book));
    const top = said.stop?.tripsAtL ?? word.tripByBookL;
    if (top !== null) word.book = anchor(word.book, top, slackShare * drum.volumeL);
  }
  word.book = { ...word.book, isTight: false };
}
