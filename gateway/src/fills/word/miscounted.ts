import type { Fill } from "../fill.ts";
import type { DrumWord } from "./drum-word.ts";
import { mostCalledL, mostL } from "./most-come.ts";
import { type TripKnown, tripL } from "./trip-known.ts";

/** A meter that nothing bears out counts too little by up to so much (common practice, no source). */
const miscounts = 1.45;
/** A meter and a float see the same begin no farther apart than this. */
const seenApartMs = 60_000;

type Counted = NonNullable<DrumWord["counted"]>;

/** So many times its litres may have come. */
function mostTimes({ basis, litres, startedAtMs, endedAtMs, ...fill }: Fill, known: TripKnown): number {
  if (basis === "flow-meter") return fill.atMostTimes ?? miscounts;
  if (!(litres !== null && litres > 0)) return 1;
  const ms = (endedAtMs ?? known.said.atMs) - startedAtMs;
  // What is drawn as it comes moves neither a float nor a level.
  if (basis === "level") return Math.max(1, mostL(known, ms) / litres);
  return basis === "calling-float" ? Math.max(1, mostCalledL(known, ms) / litres) : 1;
}

/**
 * While a fill runs the book holds all that was in the drum at its last anchor, though its float has told how little that was when it
 * released: the water that comes in is a greater part of it than the book says. At its trip the book is brought to what is in it.
 */
function releasedL({ startedAtMs, endedAtMs }: Fill, { drum, said: { stop, level } }: TripKnown): number {
  const isTold = stop?.heard === true && stop.wet === false && stop.sinceMs <= startedAtMs + seenApartMs;
  if (endedAtMs !== null || !isTold || drum.control !== "automatic") return Number.POSITIVE_INFINITY;
  return level?.litres == null ? (stop.releasesAtL ?? Number.POSITIVE_INFINITY) : Number.POSITIVE_INFINITY;
}

/**
 * κ25 × litres that a fill may have brought beside what was booked of it, uS/cm × L: each litre that was missed took the place of
 * one that was there before, at `was25`. Better water than that takes nothing away: nobody knows that it came.
 * `contentsL`: what the book holds with it; no more of it than all can have been changed.
 */
export function missedDose(
  fill: Fill,
  known: TripKnown,
  {
    amounts: { watchedL, dose },
    was25,
    contentsL,
  }: {
    readonly amounts: Pick<Counted, "watchedL" | "dose">;
    readonly was25: number;
    readonly contentsL: number;
  },
): number {
  if (!(watchedL > 0)) return 0;
  const times = mostTimes(fill, known);
  const heldL = Math.min(contentsL - watchedL, releasedL(fill, known));
  const asBooked = heldL < contentsL - watchedL ? contentsL / (heldL + times * watchedL) : 1;
  // Good water of hours makes the mean good: what was over the band counts by itself, first water left out.
  const isOver = (fill.peak25 ?? 0) > (known.band25 ?? Number.POSITIVE_INFINITY);
  const { share = 0, dose25 = 0 } = isOver ? (fill.over ?? {}) : {};
  const worse = Math.max(dose - watchedL * was25, share * watchedL * (dose25 - was25));
  const kappa25 = Math.max(dose / watchedL, dose25);
  const fitsL = Math.min(contentsL, tripL(known) ?? known.drum.volumeL);
  const most = Math.max(0, kappa25 - was25) * Math.max(0, fitsL - watchedL);
  return Math.min(most, Math.max(0, times * asBooked - 1) * Math.max(0, worse));
}
