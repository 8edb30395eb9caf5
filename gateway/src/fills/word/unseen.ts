import type { Counted as Total } from "../../measurements/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import { litresIn, pourUnseen, whole } from "./book.ts";
import type { DrumWord } from "./drum-word.ts";
import { noteHidden, type Silence } from "./hidden-span.ts";
import { greatestFlow, mostL } from "./most-come.ts";
import { type Counted, countedL, isProvedEmpty, leastComeL, levelSlack } from "./silence-proof.ts";
import { spanL, type TripKnown, tripL } from "./trip-known.ts";

/** A shorter silence hides no fill. */
const leastSilenceMs = 3 * 60_000;
const othersWaitMs = 60_000;
/** While it lasts, a silence is told of from here on: a node that begins anew is heard again before. */
export const toldAfterMs = 5 * 60_000;
/** A silence that may hide a whole fill of a drum whose float was wet before and after, ms. */
function hidesFillMs(known: TripKnown): number {
  const span = spanL(known);
  const flow = greatestFlow(known);
  return span === null || flow === null ? leastSilenceMs : Math.max(leastSilenceMs, (span / flow) * 60_000);
}

/** Up to so many litres came in that nobody saw, `guessL` more than was drawn; in a silence that may be told of yet. */
interface Unseen {
  readonly litres: number;
  readonly guessL: number;
  readonly span?: Silence;
}

function pour(word: DrumWord, known: TripKnown, { litres, guessL, span }: Unseen): void {
  const inIt = litresIn(whole(word.book));
  const guess = Math.min(Math.max(guessL, -inIt), Math.max(0, known.drum.volumeL - inIt));
  const name = span && noteHidden(word, known.said, span, { pouredL: litres, gainL: guess });
  word.book = pourUnseen(word.book, litres, guess, name);
}

/** A meter that nobody calibrated counts wrong by up to so much (common practice, no source). */
const miscounts = 1.25;
/** After a silence the first node that is heard waits so long for the others: their counters tell whether water came. */
export function awaitsOthers(word: DrumWord, { said }: TripKnown, nowMs: number): boolean {
  const { stop } = said;
  const [meter] = said.meters;
  const silent = [
    // One that says something else than before the silence is believed at its second reading.
    ...(stop && (!stop.heard || stop.wet === null) ? [stop.periodMs] : []),
    ...(meter && meter.flowing === null ? [meter.periodMs] : []),
  ];
  if (silent.length === 0) return false;
  word.backMs ??= nowMs;
  return nowMs - word.backMs < Math.max(othersWaitMs, 3 * Math.max(...silent));
}

/** What a silence may have hidden, once something tells of the inflow again. */
export function endSilence(
  word: DrumWord,
  known: TripKnown,
  { nowMs, runsOn, counted }: { readonly nowMs: number; readonly runsOn: boolean; readonly counted: Counted },
): void {
  const { said, drum } = known;
  const fromMs = word.knownMs;
  word.isBlind = false;
  word.backMs = null;
  if (fromMs === null || runsOn || isProvedEmpty(word, known, counted, fromMs)) return;
  const ms = nowMs - fromMs;
  const wet = said.stop?.heard ? said.stop.wet : null;
  const level = said.level?.litres ?? null;
  const roseL = level !== null && word.knownLevelL !== null ? level - word.knownLevelL : null;
  const isHigher = roseL !== null && roseL > levelSlack * drum.volumeL;
  const becameWet = word.knownWet === false && wet === true;
  const fillsItself = drum.control === "automatic";
  const called = fillsItself && (word.knownWet === false || wet === false) && ms >= leastSilenceMs;
  const ranBefore = word.knownFill !== null;
  const mayHide = fillsItself && ms >= hidesFillMs(known);
  if (!(isHigher || becameWet || called || ranBefore || mayHide)) return;
  const byTimeL =
    fillsItself || ranBefore ? mostL(known, ms) : (spanL(known) ?? tripL(known) ?? drum.volumeL);
  const byTotalL = countedL(word, known, counted, fromMs);
  const most = byTotalL === null ? byTimeL : Math.min(byTimeL, miscounts * byTotalL);
  const gainL = roseL ?? (becameWet ? Math.min(most, spanL(known) ?? 0) : 0);
  const leastL = leastComeL(word, known, counted, { fromMs, roseL });
  pour(word, known, {
    litres: Math.max(most, roseL ?? 0),
    guessL: gainL,
    span: { fromMs, toMs: nowMs, leastL },
  });
}

/**
 * What waited in a node comes oldest first: the bad water may be in the last of it. As long as it comes in, all that a
 * silence can have hidden is hidden still, whatever has been told of its first part.
 */
export function noteOwed(word: DrumWord, { lateMs }: DrumWitnesses, tellsInflow: boolean): void {
  if (lateMs !== undefined) word.owedFromMs ??= Math.min(lateMs, word.knownMs ?? lateMs);
  // It has caught up, or is followed no longer: its clock is wrong, and what else is heard has to do.
  else if (tellsInflow && !word.isBlind) word.owedFromMs = null;
}

/** The most that what still comes in can tell of, litres; 0: nothing does, or too short a silence. */
function owedL(word: DrumWord, known: TripKnown, nowMs: number): number {
  if (word.owedFromMs == null || known.drum.control !== "automatic") return 0;
  const ms = nowMs - Math.max(word.owedFromMs, word.answeredMs);
  return ms >= leastSilenceMs ? mostL(known, ms) : 0;
}

/** The most that can have come in that nothing has told of yet, litres; 0: nothing. */
export const hiddenL = (word: DrumWord, known: TripKnown, nowMs: number): number =>
  Math.max(owedL(word, known, nowMs), silentL(word, known, nowMs));

/** The most that can have come in while nothing tells of the inflow, as long as that lasts, litres; 0: nothing yet. */
function silentL(word: DrumWord, known: TripKnown, nowMs: number): number {
  if (!word.isBlind || word.knownMs === null) return 0;
  const ms = nowMs - Math.max(word.knownMs, word.answeredMs);
  const fillsItself = known.drum.control === "automatic";
  const isUnderWay = word.knownFill !== null || (fillsItself && word.knownWet === false);
  if (!(isUnderWay || fillsItself)) return 0;
  const leastMs = isUnderWay ? toldAfterMs : Math.max(toldAfterMs, hidesFillMs(known));
  return ms >= leastMs ? mostL(known, ms) : 0;
}

/** When that is asked next, epoch ms; null: something tells of the inflow. */
export const asksHiddenMs = (word: DrumWord, nowMs: number): number | null =>
  word.isBlind && word.knownMs !== null ? Math.max(nowMs, word.knownMs) + toldAfterMs : null;

/** A manual drum's float turned wet and nobody said that it was being filled: from how low, and by what water, nobody knows. */
export function unsaidTrip(word: DrumWord, known: TripKnown): void {
  const span = spanL(known) ?? 0.1 * known.drum.volumeL;
  pour(word, known, { litres: tripL(known) ?? known.drum.volumeL, guessL: span });
}

/** A probe has stood still over so many runs: what came in meanwhile was seen by nobody. */
export function hidByProbe(word: DrumWord, known: TripKnown, runs: number): void {
  const { volumeL } = known.drum;
  pour(word, known, {
    litres: Math.min(volumeL, runs * (spanL(known) ?? tripL(known) ?? volumeL)),
    guessL: 0,
  });
}

/** Water ran past a meter that serves several drums, none of which asked for it: it may be in this one. */
export function hidByMeter(
  word: DrumWord,
  known: TripKnown,
  { sinceMs, litres }: { readonly sinceMs: number; readonly litres: number },
  isGood: boolean,
): void {
  const counted = word.unclaimed?.sinceMs === sinceMs ? word.unclaimed.litres : 0;
  word.unclaimed = { sinceMs, litres: Math.max(litres, counted) };
  if (!isGood && litres > counted) pour(word, known, { litres: litres - counted, guessL: 0 });
}

/** Litres poured in by hand that a level saw. */
export function byHand(word: DrumWord, known: TripKnown, litres: number): void {
  pour(word, known, { litres, guessL: litres });
}

/** Remembers what was known, for the next silence. */
export function markKnown(
  word: DrumWord,
  said: DrumWitnesses,
  {
    toldMs,
    fill,
    total,
  }: { readonly toldMs: number; readonly fill: string | null; readonly total: Total | undefined },
): void {
  word.knownMs = toldMs;
  word.knownTotal = total?.isExact ? { start: total.start, litres: total.litres } : null;
  word.knownFill = fill;
  if (said.stop?.heard) word.knownWet = said.stop.wet;
  if (said.level?.litres != null) word.knownLevelL = said.level.litres;
}
