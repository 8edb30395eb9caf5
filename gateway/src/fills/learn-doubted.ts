import { learnCallHabit, learnHabit } from "./learn-habit.ts";
import {
  type Doubted,
  enoughFills,
  extentOf,
  type Learned,
  type LearnedFrom,
  learn,
  learnCall,
  longestCallMs,
  noteChange,
  usualDurationMs,
} from "./learned.ts";

/** So many within so long are no fault any more: that is how the drum is used now (common practice, no source). */
const usualTimes = 3;
const keptMs = 14 * 86_400_000;
/** A tap that stands open empties the drum again at once: what is called for so soon is the same draw, at the very most. */
const goesOnMs = 30 * 60_000;
/** No tap runs quite evenly: twice as long as it would take. */
const tapTimes = 2;
/** What is no more than this over the most that is usual is a usual one. */
const usualShare = 1.1;

/** A fill, or a call, over which an alarm stood, or that brought more than the drum holds. */
interface Lesson {
  /** Null where it is not known, or put together, and of a call. */
  readonly litres: number | null;
  readonly durationMs: number;
  /** When it ended, epoch ms. */
  readonly atMs: number;
  /** Its float was seen to end it. */
  readonly isConfirmed: boolean;
}

/**
 * For so long after it the next call of the same draw may wait. What made a fill of `usualMs` last for `durationMs` empties
 * what fits between trip and release in `usualMs × durationMs / (durationMs − usualMs)`: later, it was no tap.
 */
function waitsMs(learned: Learned, { durationMs }: Doubted): number {
  const usualMs = usualDurationMs(learned);
  if (usualMs === null || durationMs <= usualMs) return goesOnMs;
  return Math.min(goesOnMs, (tapTimes * usualMs * durationMs) / (durationMs - usualMs));
}

const isSoon = (learned: Learned, one: Doubted, sinceMs: number): boolean =>
  one.isOver !== true && sinceMs >= one.atMs && sinceMs - one.atMs < waitsMs(learned, one);

/** With one more, which goes on with the last where it began soon after it; without what is long ago. */
function withDoubted(
  learned: Learned,
  before: readonly Doubted[] = [],
  { isConfirmed, ...lesson }: Lesson,
): readonly Doubted[] {
  const { litres, durationMs, atMs } = lesson;
  const one: Doubted = { litres, durationMs, atMs, ...(isConfirmed ? { isConfirmed: true as const } : {}) };
  const kept = before.filter((old) => atMs - old.atMs <= keptMs);
  const last = kept.at(-1);
  if (!last || !isSoon(learned, last, atMs - durationMs)) return [...kept, one];
  const mostL = last.litres === null ? litres : Math.max(last.litres, litres ?? 0);
  return [...kept.slice(0, -1), { ...one, litres: mostL, durationMs: Math.max(last.durationMs, durationMs) }];
}

/**
 * A fill of which an alarm told may have been a flood that somebody ended: alone it teaches no more than a habit about its
 * time of day, where its float ended it. Before enough fills are known each counts.
 */
export function learnDoubted(
  learned: Learned,
  { tripAtL, roughL = null, ...lesson }: Lesson & Pick<LearnedFrom, "tripAtL" | "roughL">,
): void {
  const { litres, durationMs, atMs } = lesson;
  if (learned.fills.length < enoughFills) {
    learn(learned, { tripAtL: lesson.isConfirmed ? tripAtL : null, litres, roughL, durationMs, atMs });
    return;
  }
  // Litres that are put together make a habit, too: the alarm goes by them.
  if (lesson.isConfirmed)
    learnHabit(learned, { litres: litres ?? roughL, ranMs: durationMs, atMs, isDoubted: true });
  const doubted = withDoubted(learned, learned.doubted, lesson);
  learned.doubted = doubted.length < usualTimes ? doubted : [];
  noteChange(learned);
  if (doubted.length < usualTimes) return;
  for (const one of doubted) learn(learned, { tripAtL: null, ...one });
}

/** The same of a call, from release to trip. */
export function learnDoubtedCall(learned: Learned, given: Omit<Lesson, "litres">): void {
  const { durationMs, atMs } = given;
  if (learned.callsMs.length < enoughFills) {
    learnCall(learned, durationMs, atMs);
    return;
  }
  if (given.isConfirmed) learnCallHabit(learned, { litres: null, ranMs: durationMs, atMs, isDoubted: true });
  const doubted = withDoubted(learned, learned.doubtedCalls, { litres: null, ...given });
  learned.doubtedCalls = doubted.length < usualTimes ? doubted : [];
  noteChange(learned);
  if (doubted.length < usualTimes) return;
  for (const one of doubted) learnCall(learned, one.durationMs, one.atMs);
}

/** Whether it took more than is usual: only then it may go on with a draw. */
export function isMoreThanUsual(learned: Learned, { litres, durationMs }: Omit<Doubted, "atMs">): boolean {
  const extent = extentOf(learned);
  if (extent === null) return true;
  return litres !== null && extent.litres !== null
    ? litres > usualShare * extent.litres
    : durationMs > usualShare * extent.durationMs;
}

/** The same of a call. */
export function isLongerThanUsual(learned: Learned, callMs: number): boolean {
  const usualMs = longestCallMs(learned);
  return usualMs === null || callMs > usualShare * usualMs;
}

const overNow = (all: readonly Doubted[]): Doubted[] => all.map((one) => ({ ...one, isOver: true as const }));

/** A usual fill, or call: what was drawn before is over, and explains nothing that comes. */
export function endDraw(learned: Learned): void {
  const { doubted, doubtedCalls } = learned;
  if (![...(doubted ?? []), ...(doubtedCalls ?? [])].some(({ isOver }) => !isOver)) return;
  if (doubted) learned.doubted = overNow(doubted);
  if (doubtedCalls) learned.doubtedCalls = overNow(doubtedCalls);
  noteChange(learned);
}

/** The last of them that ended soon before, by its float; undefined: none did. */
const beforeIt = (
  learned: Learned,
  all: readonly Doubted[] | undefined,
  sinceMs: number,
): Doubted | undefined => all?.findLast((one) => one.isConfirmed === true && isSoon(learned, one, sinceMs));

/** What began then goes on with a draw of which an alarm told: litres and ms that this explains; 0: it does not. */
export function drawBefore(
  learned: Learned,
  sinceMs: number,
): { readonly litres: number; readonly durationMs: number; readonly callMs: number } {
  const fill = beforeIt(learned, learned.doubted, sinceMs);
  const callMs = beforeIt(learned, learned.doubtedCalls, sinceMs)?.durationMs ?? 0;
  return { litres: fill?.litres ?? 0, durationMs: fill?.durationMs ?? 0, callMs };
}

/** Whether it began so soon after a draw of which an alarm told that it goes on with it. */
export const goesOnWithDraw = (learned: Learned, sinceMs: number): boolean =>
  (learned.doubted ?? []).some((one) => isSoon(learned, one, sinceMs));
