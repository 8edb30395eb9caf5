import { seldomMs } from "../guard/stop-rules.ts";
import { anchor, draw, drawThrough, litresIn, unknownBook, whole } from "./book.ts";
import { slackShare } from "./count-fill.ts";
import type { DrumWord } from "./drum-word.ts";
import type { TripKnown } from "./trip-known.ts";
import { byHand } from "./unseen.ts";

/** Of what came in and was drawn a level may miscount this share. */
const movedShare = 0.1;

/** What is drawn while as much comes in shows only afterwards: by then the level stands lower than when its float called. */
function drawSeen(word: DrumWord, { drum, said: { stop, level } }: TripKnown, drawnL: number): void {
  const guessedL = level ? Math.max(0, level.guessedL - (word.guessedL ?? level.guessedL)) : 0;
  const throughL = Math.min(drawnL, guessedL);
  const topL = stop?.releasesAtL ?? stop?.tripsAtL ?? drum.volumeL;
  const { book, spentL } = drawThrough(draw(word.book, drawnL - throughL), throughL, topL);
  word.book = book;
  word.spentL = (word.spentL ?? 0) + spentL;
}

/** What a level tells at first sight, of draws, of water poured in by hand, and at standstill. */
export function takeLevel(word: DrumWord, known: TripKnown, isFilling: boolean): void {
  const { level } = known.said;
  if (!level) return;
  if (level.drawnL > word.drawnL) {
    const drawnL = level.drawnL - word.drawnL;
    const cutL = Math.min(word.cutL ?? 0, drawnL);
    drawSeen(word, known, drawnL - cutL);
    word.cutL = (word.cutL ?? 0) - cutL;
    word.movedL += drawnL;
    word.guessL = (word.guessL ?? 0) + Math.max(0, level.guessedL - (word.guessedL ?? level.guessedL));
  }
  word.guessedL = level.guessedL;
  if (level.handL > word.handL && word.isSeen) byHand(word, known, level.handL - word.handL);
  word.drawnL = level.drawnL;
  word.handL = level.handL;
  if (level.litres === null) return;
  const { volumeL } = known.drum;
  word.saltL ??= level.saltL;
  // Salt that dissolves, and the density that somebody's word of it brings, are no water that came or went.
  const litres = level.litres - (level.saltL - word.saltL);
  // A person who has answered for it knew what is in it.
  if (!word.isSeen && word.counted === null && word.release === null) {
    word.book = unknownBook(litres, false);
    return;
  }
  if (isFilling || level.flowing !== false) return;
  const apartL = litres - litresIn(whole(word.book));
  const noiseL = Math.max(0.01 * volumeL, 3 * level.sigmaL);
  // It was watched all the while: what draws and inflow are counted wrong by is no water that nobody saw.
  // One that is seldom read does not see when in a fall water began to come: what a meter let it guess may not have been
  // drawn. What it fell by was: what is over the book by more came in unseen.
  const isMetered = known.said.meters.some(({ flowing }) => flowing !== null);
  const notDrawnL = isMetered && level.periodMs > seldomMs ? (word.guessL ?? 0) : 0;
  const slackL = Math.max(slackShare * volumeL, movedShare * (word.movedL || 0), notDrawnL);
  if (apartL < -noiseL || apartL > 2 * noiseL) word.book = anchor(word.book, litres, slackL);
  word.movedL = 0;
  word.cutL = 0;
  word.spentL = 0;
  word.guessL = 0;
}

/** What a level or a wet float tells when it is heard first. */
export function firstSight(word: DrumWord, { said }: TripKnown): void {
  const { stop, level } = said;
  const heard = (stop !== null && stop.wet !== null) || (level !== null && level.litres !== null);
  if (word.isSeen || !heard) return;
  word.isSeen = true;
  if (word.release !== null || level?.litres != null) return;
  if (stop?.wet && stop.tripsAtL !== null) word.book = unknownBook(stop.tripsAtL, false);
}
