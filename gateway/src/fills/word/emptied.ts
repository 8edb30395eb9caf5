import type { Answering } from "./answering.ts";
import { type Book, litresIn, unknownBook, whole, worstDose } from "./book.ts";

/** A drum that was emptied holds this share of its volume still. */
const heelShare = 0.01;
/** … and an outlet may leave up to this share of it: a tap 3 cm over the floor of a 200 L drum (common practice, no source). */
const leftShare = 0.04;

/** A drum that was emptied keeps as much as its level says, else what an outlet may leave, of the water that it held before. */
export function emptied(before: Book, { drum, band25, feed25, levelL }: Answering): Book {
  const heelL = Math.max(heelShare * drum.volumeL, levelL ?? 0);
  const leftL = levelL === null ? leftShare * drum.volumeL : heelL;
  const parts = whole(before);
  const worst = worstDose(parts, { feed25, own25: band25 ?? 0 });
  const rest25 = worst / Math.max(litresIn(parts), leftL);
  const { base, ...book } = unknownBook(heelL, true);
  // Of water that was within its band the rest counts as any that nobody knows.
  const wasBad = band25 !== null && rest25 > band25;
  return { ...book, base: wasBad ? { ...base, restDose: leftL * rest25 } : base };
}
