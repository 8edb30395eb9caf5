import type { Fill } from "../fill.ts";
import { pourUnseen } from "./book.ts";
import type { DrumWord } from "./drum-word.ts";

/** A fill came in of which nobody knows the litres, while the drum has no band. */
export function noteUnasked(word: DrumWord, { dose25 }: Pick<Fill, "dose25">, litres: number): void {
  if (dose25 == null) return;
  const before = word.unasked ?? { kappa25: 0, litres: 0 };
  word.unasked = { kappa25: Math.max(before.kappa25, dose25), litres: before.litres + litres };
}

/** The drum has a band now: what came in before counts against it as the most that can have come, where it lay over that. */
export function askOfBefore(word: DrumWord, band25: number | null, volumeL: number): void {
  const { unasked } = word;
  if (!unasked || band25 === null) return;
  word.unasked = null;
  if (unasked.kappa25 > band25) word.book = pourUnseen(word.book, Math.min(volumeL, unasked.litres), 0);
}
