/** Counts what each asker has under way. */
export interface UnderWay {
  /** False when the asker has as much as it may already; else counts one more, to be ended by `end`. */
  begin(asker: string): boolean;
  end(asker: string): void;
}

/** At most `max` of one asker; what is kept is bounded by what is under way. */
export function createUnderWay(max: number): UnderWay {
  const counts = new Map<string, number>();
  return {
    begin(asker) {
      const count = counts.get(asker) ?? 0;
      if (count >= max) return false;
      counts.set(asker, count + 1);
      return true;
    },
    end(asker) {
      const count = (counts.get(asker) ?? 0) - 1;
      if (count > 0) counts.set(asker, count);
      else counts.delete(asker);
    },
  };
}
