import type { Drum } from "../../line/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import type { DrumWord } from "./drum-word.ts";

/** A meter that nobody calibrated counts too little by up to so much (common practice, no source). */
const miscounts = 1.25;
/** A meter and a float see the same begin no farther apart than this. */
const seenApartMs = 60_000;

type Counted = NonNullable<DrumWord["counted"]>;

interface Filled {
  readonly drum: Drum;
  readonly said: DrumWitnesses;
}

/** So many times its litres may have come. */
const mostTimes = ({ basis, atMostTimes = miscounts }: Fill): number =>
  basis === "flow-meter" ? atMostTimes : 1;

/**
 * While a fill runs the book holds all that was in the drum at its last anchor, though its float has told how little that was when it
 * released: the water that comes in is a greater part of it than the book says. At its trip the book is brought to what is in it.
 */
function releasedL({ startedAtMs, endedAtMs }: Fill, { drum, said: { stop, level } }: Filled): number {
  const isTold = stop?.heard === true && stop.wet === false && stop.sinceMs <= startedAtMs + seenApartMs;
  if (endedAtMs !== null || !isTold || drum.control !== "automatic") return Number.POSITIVE_INFINITY;
  return level?.litres == null ? (stop.releasesAtL ?? Number.POSITIVE_INFINITY) : Number.POSITIVE_INFINITY;
}

/**
 * κ25 × litres that a fill may have brought beside what was booked of it, uS/cm × L: each litre that its meter missed took the place of
 * one that was there before, at `was25`. Better water than that takes nothing away: nobody knows that it came.
 * `contentsL`: what the book holds with it.
 */
export function missedDose(
  fill: Fill,
  known: Filled,
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
  const times = mostTimes(fill);
  const mostL = times * watchedL;
  const heldL = Math.min(contentsL - watchedL, releasedL(fill, known));
  const asBooked = heldL < contentsL - watchedL ? contentsL / (heldL + mostL) : 1;
  return Math.max(0, times * asBooked - 1) * Math.max(0, dose - watchedL * was25);
}
