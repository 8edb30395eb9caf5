import { learnCallHabit, learnHabit } from "./learn-habit.ts";
import {
  type Doubted,
  enoughFills,
  type Learned,
  type LearnedFrom,
  learn,
  learnCall,
  noteChange,
} from "./learned.ts";

/** So many within so long are no fault any more: that is how the drum is used now (common practice, no source). */
const usualTimes = 3;
const keptMs = 14 * 86_400_000;
/** A tap that stands open empties the drum again at once: what is called for so soon is the same draw. */
const goesOnMs = 30 * 60_000;

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

const isSoon = ({ atMs }: Doubted, sinceMs: number): boolean => sinceMs >= atMs && sinceMs - atMs < goesOnMs;

/** With one more, which goes on with the last where it began soon after it; without what is long ago. */
function withDoubted(
  before: readonly Doubted[] = [],
  { isConfirmed, ...lesson }: Lesson,
): readonly Doubted[] {
  const { litres, durationMs, atMs } = lesson;
  const one: Doubted = { litres, durationMs, atMs, ...(isConfirmed ? { isConfirmed: true as const } : {}) };
  const kept = before.filter((old) => atMs - old.atMs <= keptMs);
  const last = kept.at(-1);
  if (!last || !isSoon(last, atMs - durationMs)) return [...kept, one];
  const mostL = last.litres === null ? litres : Math.max(last.litres, litres ?? 0);
  return [...kept.slice(0, -1), { ...one, litres: mostL, durationMs: Math.max(last.durationMs, durationMs) }];
}

/**
 * A fill of which an alarm told may have been a flood that somebody ended: alone it teaches no more than a habit about its
 * time of day, where its float ended it. Before enough fills are known each counts.
 */
export function learnDoubted(learned: Learned, lesson: Lesson & Pick<LearnedFrom, "tripAtL">): void {
  const { litres, durationMs, atMs } = lesson;
  if (learned.fills.length < enoughFills) {
    learn(learned, { tripAtL: lesson.isConfirmed ? lesson.tripAtL : null, litres, durationMs, atMs });
    return;
  }
  if (lesson.isConfirmed) learnHabit(learned, { litres, ranMs: durationMs, atMs, isDoubted: true });
  const doubted = withDoubted(learned.doubted, lesson);
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
  const doubted = withDoubted(learned.doubtedCalls, { litres: null, ...given });
  learned.doubtedCalls = doubted.length < usualTimes ? doubted : [];
  noteChange(learned);
  if (doubted.length < usualTimes) return;
  for (const one of doubted) learnCall(learned, one.durationMs, one.atMs);
}

/** The last of them that ended soon before, by its float; undefined: none did. */
const beforeIt = (all: readonly Doubted[] | undefined, sinceMs: number): Doubted | undefined =>
  all?.findLast((one) => one.isConfirmed === true && isSoon(one, sinceMs));

/** What began then goes on with a draw of which an alarm told: litres and ms that this explains; 0: it does not. */
export function drawBefore(
  { doubted, doubtedCalls }: Learned,
  sinceMs: number,
): { readonly litres: number; readonly durationMs: number; readonly callMs: number } {
  const fill = beforeIt(doubted, sinceMs);
  const callMs = beforeIt(doubtedCalls, sinceMs)?.durationMs ?? 0;
  return { litres: fill?.litres ?? 0, durationMs: fill?.durationMs ?? 0, callMs };
}

/** Whether it began so soon after a draw of which an alarm told that it goes on with it. */
export const goesOnWithDraw = ({ doubted = [] }: Learned, sinceMs: number): boolean =>
  doubted.some((one) => isSoon(one, sinceMs));
