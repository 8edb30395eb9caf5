import type { Flag } from "../readings/index.ts";
import type { NamedRows } from "./named-rows.ts";

/** One value of one series; `value` null only with flag 9. */
export interface SeriesRow {
  readonly series: string;
  readonly tMs: number;
  readonly value: number | null;
  readonly flag: Flag;
  /** Leaves what stands at that time already, and goes to the next free millisecond: the calendar shows this time again. */
  readonly beside?: boolean;
}

/** Buckets of equal length over [from, to); empty buckets are present with count 0 and flag 9. */
export interface SeriesBuckets {
  readonly bucketMs: number;
  readonly t: readonly number[];
  readonly min: readonly (number | null)[];
  readonly mean: readonly (number | null)[];
  readonly max: readonly (number | null)[];
  readonly count: readonly number[];
  /** Worst flag by precedence 9, 2, 1, 3, 4 (low to high). */
  readonly flag: readonly Flag[];
}

/** What a write did. `replaced`: rows that another value stood for at that time; null where the store can't tell. */
export interface Written {
  readonly written: number;
  readonly replaced: number | null;
}

/** Where series are kept, and asked for. Same (series, tMs) again: the later write wins. */
export interface SeriesStore {
  /** Resolves when the batch is durable; a batch is all or nothing. */
  write(batch: readonly SeriesRow[]): Promise<Written>;
  /** Rows of [fromMs, toMs) in time order, in bounded batches. */
  range(series: string, fromMs: number, toMs: number): AsyncIterable<readonly SeriesRow[]>;
  /** Buckets over [fromMs, toMs), aligned; uses roll-ups where they suffice. */
  buckets(series: string, fromMs: number, toMs: number, buckets: number): Promise<SeriesBuckets>;
  latest(series: string): Promise<SeriesRow | null>;
  names(): Promise<readonly string[]>;
  close(): Promise<void>;
}

/** Where a derivation puts its rows: nobody sees them until all of them stand at once. */
export interface SeriesStaging {
  /** Puts rows of a job aside, whose memory it takes; without waiting for the disk. `replaced`: those that another value stands for in the file. */
  stage(job: string, pieces: readonly NamedRows[]): Promise<Written>;
  /** Resolves when all that was put aside is on disk: before a job comes into force. */
  sync(): Promise<void>;
  /** What was put aside for a job stands from now on, all of it or nothing; done twice it changes nothing more. */
  publish(job: string): Promise<void>;
  /** What was put aside for a job goes. */
  discard(job: string): Promise<void>;
  /** Jobs of which rows lie aside. */
  staged(): Promise<readonly string[]>;
}

/** Where the path puts its rows: in memory at once, seen by questions at once, on disk with the next barrier. */
export interface SeriesIntake {
  /**
   * Rows from here on are those of entry `seq`. Of an entry that the store has already, run again after a stop, none is
   * added.
   */
  begin(seq: number): void;
  add(row: SeriesRow): void;
  /** Rows that the file does not have yet. */
  readonly waiting: number;
  /** Whether more rows may come; else `whenRoom` tells. */
  readonly hasRoom: boolean;
  whenRoom(): Promise<void>;
  /** Resolves when all rows so far are on disk, together with the number of the last entry. */
  sync(): Promise<void>;
}
