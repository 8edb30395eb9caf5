const megabyte = 2 ** 20;
/** Deleting needs room too: so much is held back for it. */
export const ballastBytes = 16 * megabyte;
const maxLeastFreeBytes = 64 * megabyte;
const leastFreeShare = 0.05;
/** The ballast is laid only where there is plenty. */
const plentyBytes = 256 * megabyte;
/** So long the journal is kept where the disk is short of space: a day, and always past the older checkpoint. */
const shortJournalMs = 86_400_000;

/** Free bytes on a disk of that size below which the gateway begins to let go of what it keeps. */
export const leastFreeOf = (allBytes: number): number =>
  Math.min(maxLeastFreeBytes, leastFreeShare * allBytes);

/** The disk, and what can give space. */
export interface SpaceNeeds {
  readonly disk: () => Promise<{ readonly freeBytes: number; readonly allBytes: number }>;
  readonly ballast: {
    readonly isThere: () => boolean;
    readonly lay: () => Promise<void>;
    readonly remove: () => void;
  };
  readonly journal: { shorten(keepMs: number): void };
  /** Lets the oldest day's rows go; gives the bytes that came free, 0 where there is nothing more, null where none would. */
  readonly series: { freeOldest(): Promise<number | null> };
  readonly log: (message: string) => void;
}

/**
 * What goes when the disk runs short of space, one thing a look: the ballast, then the journal beyond a day, then the
 * readings of the oldest day, again and again. Refusing intake comes last, and by itself: a journal that can't be written
 * acknowledges nothing.
 */
export function createSpaceKeeper({ disk, ballast, journal, series, log }: SpaceNeeds) {
  let isShortened = false;
  let isEmpty = false;
  let isHeld = false;
  return {
    async look(): Promise<void> {
      const { freeBytes, allBytes } = await disk();
      const leastFreeBytes = leastFreeOf(allBytes);
      if (freeBytes >= leastFreeBytes) {
        if (freeBytes < 4 * leastFreeBytes) return;
        [isShortened, isEmpty, isHeld] = [false, false, false];
        if (freeBytes >= plentyBytes && !ballast.isThere()) await ballast.lay();
        return;
      }
      const left = `${Math.floor(freeBytes / megabyte)} MB are left on the disk`;
      if (ballast.isThere()) {
        ballast.remove();
        log(`disk: ${left}: the ${ballastBytes / megabyte} MB held back are given up`);
      } else if (!isShortened) {
        isShortened = true;
        journal.shorten(shortJournalMs);
        log(`disk: ${left}: of what came in, only the last day is kept`);
      } else if (!isEmpty) {
        const freed = await series.freeOldest();
        isEmpty = freed === 0;
        const wasHeld = isHeld;
        isHeld = freed === null;
        if (isHeld && wasHeld) return;
        log(
          isHeld
            ? `disk: ${left}: another program reads the readings (a backup, an export), and the file keeps its length until it ends: no day is let go before`
            : isEmpty
              ? `disk: ${left}: there is nothing more to let go. Make room, or nothing can be stored.`
              : `disk: ${left}: the oldest day's readings are let go, their hours and minutes stay`,
        );
      }
    },
  };
}
