/** From an engine time on, the calendar is the engine time plus so much. */
export interface Correction {
  readonly fromEngineMs: number;
  readonly offsetMs: number;
}

/** Steps of the clock that are remembered; older ones join the oldest of them. */
const maxCorrections = 200;

/**
 * The dates that belong to engine times. Engine time only goes on; the calendar is stepped when the machine's clock was
 * set, so a stretch of it can be left out, or be shown twice.
 */
export function createCalendar(known: readonly Correction[] = []) {
  let corrections: readonly Correction[] = [];

  function indexOf(engineMs: number): number {
    let index = corrections.length - 1;
    while (index >= 0 && (corrections[index] as Correction).fromEngineMs > engineMs) index -= 1;
    return index;
  }
  const offsetOf = (index: number) => corrections[index]?.offsetMs ?? 0;
  const endOf = (index: number) => corrections[index + 1]?.fromEngineMs ?? Number.POSITIVE_INFINITY;
  const beginOf = (index: number) => corrections[index]?.fromEngineMs ?? Number.NEGATIVE_INFINITY;

  function add(next: Correction): void {
    if (corrections.some(({ fromEngineMs }) => fromEngineMs === next.fromEngineMs)) return;
    corrections = [...corrections, next]
      .sort((a, b) => a.fromEngineMs - b.fromEngineMs)
      .slice(-maxCorrections);
  }
  for (const correction of known) add(correction);

  return {
    add,
    corrections: (): readonly Correction[] => corrections,
    /** What is added to engine time now, ms. */
    offsetMs: (): number => offsetOf(corrections.length - 1),
    /** The calendar time at an engine time. */
    at: (engineMs: number): number =>
      corrections.length === 0 ? engineMs : engineMs + offsetOf(indexOf(engineMs)),
    /**
     * The engine time of a calendar time. One that was shown twice is meant as it was shown last; one that was left out is
     * taken as the moment of the step.
     */
    engineOf(calendarMs: number): number {
      for (let index = corrections.length - 1; index >= -1; index -= 1) {
        const engineMs = calendarMs - offsetOf(index);
        if (engineMs >= beginOf(index) && engineMs < endOf(index)) return engineMs;
      }
      const step = corrections.findLastIndex(
        (_, index) => endOf(index - 1) + offsetOf(index - 1) <= calendarMs,
      );
      return step < 0 ? calendarMs : beginOf(step);
    },
    /** Whether the calendar had shown the date of this engine time once before, until it was stepped back. */
    isShownAgain(engineMs: number): boolean {
      const index = indexOf(engineMs);
      if (index < 0) return false;
      const calendarMs = engineMs + offsetOf(index);
      for (let earlier = index - 1; earlier >= -1; earlier -= 1) {
        const was = calendarMs - offsetOf(earlier);
        if (was >= beginOf(earlier) && was < endOf(earlier)) return true;
      }
      return false;
    },
  };
}

/** Engine time and calendar time, one turned into the other. */
export type Calendar = ReturnType<typeof createCalendar>;
