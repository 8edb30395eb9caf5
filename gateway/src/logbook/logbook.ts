import type { Act, Calibration } from "../acts/index.ts";
import type { AlarmChange, WorkChange } from "../alarms/index.ts";
import type { Batch, DrumWater, Fill } from "../fills/index.ts";
import type { Proof } from "../measurements/index.ts";
import type { Draw, FloatChange, Gap, NightOver, Seen } from "../nights/index.ts";
import type { NodePresence } from "../readings/index.ts";
import type { ActRecord } from "./act-records.ts";
import type { DerivationQueue } from "./derivation-queue.ts";
import type { FillsAsked } from "./fill-records.ts";
import type { PastEvent } from "./past-events.ts";
import type { LogbookOutcome, RecordName } from "./records.ts";
import type { RejectionCount } from "./rejection-counts.ts";
import type { Replacing } from "./replace-standing.ts";

/** Acts, alarms, lines and rejections, kept for ever but for the examples of rejections. */
export interface Logbook {
  /**
   * Writes outcomes in one transaction, those of the journal up to entry `seq`; one that is written already is left as
   * it is.
   */
  record(outcomes: readonly LogbookOutcome[], seq?: number): void;
  /** Runs what writes in one transaction: all of it stands, or nothing does. Throws what the work throws. */
  together(work: () => void): void;
  /**
   * Resolves when all that was recorded is on disk: before a checkpoint goes past it, up to entry `seq`. Rejects when the
   * disk does not take it.
   */
  sync(seq?: number): Promise<void>;
  /** The entry up to which everything is here; null where an earlier version wrote the file and did not say. */
  storedSeq(): number | null;
  /** Alarm changes, newest first; `before` is the place of the last one of the page before. */
  alarmChanges(
    limit: number,
    before?: number,
  ): readonly { readonly place: number; readonly change: AlarmChange }[];
  /** Alarm changes of entries after `seq`, oldest first. */
  alarmChangesAfter(seq: number, limit: number): readonly AlarmChange[];
  /** The entry of the newest alarm change; 0 before the first. */
  lastAlarmSeq(): number;
  /** The last change of each alarm from before a time, in no order, without those that had ended. */
  alarmsStoodAt(ms: number): readonly AlarmChange[];
  /** Changes of alarms of [fromMs, toMs), oldest first. */
  alarmChangesIn(fromMs: number, toMs: number): readonly AlarmChange[];
  /** Acts of [fromMs, toMs) that were taken, oldest first. */
  actsIn(fromMs: number, toMs: number): readonly { readonly atMs: number; readonly act: Act }[];
  /** Work that began or was over in [fromMs, toMs), oldest first. */
  worksIn(fromMs: number, toMs: number): readonly WorkChange[];
  /** The newest `perSubject` changes of what is worked on, of each subject, from before a time; oldest first. */
  lastWorks(perSubject: number, beforeMs?: number): readonly WorkChange[];
  /** Words of [fromMs, toMs), oldest first. */
  wordsIn(fromMs: number, toMs: number): readonly DrumWater[];
  /** Gaps that reach into [fromMs, toMs), oldest first. */
  gaps(fromMs: number, toMs: number): readonly Gap[];
  /** Those gaps, and draws and changes of floats that began in it, oldest first. */
  seen(
    fromMs: number,
    toMs: number,
  ): {
    readonly gaps: readonly Gap[];
    readonly draws: readonly Draw[];
    readonly floats: readonly FloatChange[];
  };
  /** Puts what a derivation saw in place of what was seen in [fromMs, toMs): compared first, then in one transaction. */
  replacingSeen(fromMs: number, toMs: number, seen: readonly Seen[]): Replacing;
  /** A night that is over; null where none of that evening is. */
  night(date: string): NightOver | null;
  /** Nights that are over and began before a time, newest first. */
  nights(limit: number, beforeMs?: number): readonly NightOver[];
  /** Acts, newest first; `before` is the place of the last one of the page before. */
  acts(limit: number, before?: number): readonly ActRecord[];
  /** Acts of one kind that were taken, newest first; `before` a place, or a time. */
  actsOf(type: Act["type"], limit: number, before?: number, beforeMs?: number): readonly ActRecord[];
  /** Fills, newest first, of one drum or of all; that began before `beforeMs` and at or after `fromMs`. */
  fills(asked: FillsAsked): readonly Fill[];
  fill(id: string): Fill | null;
  /** Tests of floats that are over, newest first; `before` is the place of the last one of the page before. */
  proofs(limit: number, before?: number): readonly { readonly place: number; readonly record: Proof }[];
  /** The last test of each float, from before a time. */
  lastProofs(beforeMs?: number): readonly Proof[];
  rejections(): readonly RejectionCount[];
  /** What the doors refused, as it was kept last, the oldest news first. */
  refusalsAtTheDoor(): readonly RejectionCount[];
  /** Keeps counts of what the doors refused, in place of those of the same code and node. Throws what the disk says. */
  keepRefusals(counts: readonly RejectionCount[]): void;
  /** Calibrations that were taken, in the order in which they were entered, each with the time from which it is valid. */
  calibrations(): readonly Calibration[];
  /** The last change of each alarm, in the order in which they came. */
  lastAlarms(): readonly AlarmChange[];
  /** Some of what words go by was lost with a damaged or missing file, and no state of the path was saved since. */
  areWordsLost(): boolean;
  /** A saved state of the path has the words. */
  wordsAreKept(): void;
  /** The last word of each drum. */
  lastWords(beforeMs?: number): readonly DrumWater[];
  /** Derivations that were asked for. */
  readonly derivations: DerivationQueue;
  /** The newest `perDrum` fills of each drum, oldest first. */
  lastFills(perDrum: number, beforeMs?: number): readonly Fill[];
  /** The line in force last, or at a time. */
  lastLine(beforeMs?: number): string | null;
  /** The last presence of each node, from before a time. */
  lastPresences(beforeMs?: number): readonly NodePresence[];
  /** Acts that were taken, lines, starts and presences of [fromMs, toMs), in their order. */
  pastEvents(fromMs: number, toMs: number): readonly PastEvent[];
  /** Puts the words that a derivation gave in place of those of [fromMs, toMs). */
  replacingWords(fromMs: number, toMs: number, words: readonly DrumWater[]): Replacing;
  /** Turns of batches of [fromMs, toMs), oldest first; and the last one of each drum, from before a time. */
  batchesIn(fromMs: number, toMs: number): readonly Batch[];
  lastBatches(beforeMs?: number): readonly Batch[];
  /** Puts the turns that a derivation gave in place of those of [fromMs, toMs). */
  replacingBatches(fromMs: number, toMs: number, batches: readonly Batch[]): Replacing;
  /** Records of a kind, newest first; `before` is the place of the last one of the page before. */
  page(
    kind: RecordName,
    limit: number,
    before?: number,
  ): readonly { readonly place: number; readonly record: unknown }[];
  /** All records of a kind, oldest first, one at a time. */
  all(kind: RecordName): Iterable<unknown>;
  close(): void;
}
