import { figuresOf, type Learned, noteChange } from "./learned.ts";
import { withPeak } from "./peaks.ts";

/** A fill or a call that stood for a while, as far as its water ran. */
interface Ran {
  /** Null: not known, or of a call. */
  readonly litres: number | null;
  /** For how long water ran, ms. */
  readonly ranMs: number;
  /** When it ended, epoch ms. */
  readonly atMs: number;
  /** An alarm told of it. */
  readonly isDoubted?: true;
}

/** A fill stood for a while: the time for which its water ran is explained at that time of day, and teaches no more. */
export function learnHabit(learned: Learned, { ranMs, ...of }: Ran): void {
  if (ranMs <= figuresOf(learned).bulk.durationMs.most) return;
  learned.peaks = withPeak(learned.peaks ?? [], { ...of, durationMs: ranMs });
  noteChange(learned);
}

/** The same of a call, once it is known how long calls usually take. */
export function learnCallHabit(learned: Learned, { ranMs, ...of }: Ran): void {
  const usualMs = figuresOf(learned).bulk.callMs.most;
  if (usualMs === 0 || ranMs <= usualMs) return;
  learned.callPeaks = withPeak(learned.callPeaks ?? [], { ...of, durationMs: ranMs });
  noteChange(learned);
}
