/** Rows that were stored together, in the order in which they came, as columns. */
export interface SeriesBatch {
  /** Its place in the log of batches: a later batch has a greater one; there may be gaps. */
  readonly id: number;
  readonly names: readonly string[];
  /** For each row the index of its name in `names`. */
  readonly series: Uint32Array;
  readonly tMs: Float64Array;
  /** NaN stands for a missing value (flag 9). */
  readonly values: Float64Array;
  /** QARTOD flags: 1, 2, 3, 4, 9. */
  readonly flags: Uint8Array;
}

/** A stretch [fromMs, toMs) of a series that a follower is still owed: its batches are sealed, its rows lie in blocks. */
export interface OwedRange {
  readonly series: string;
  readonly fromMs: number;
  readonly toMs: number;
}

/** How far a follower is behind. */
export interface Behind {
  /** Batches that it has not had yet. */
  readonly batches: number;
  readonly owed: number;
  /** Time of the oldest row that it has not had, epoch ms; null when it has all. */
  readonly sinceMs: number | null;
}

/**
 * The log of batches of the embedded store, for whoever sends the rows on (InfluxDB). A follower is known by its name; its
 * cursor and what it is owed are kept in the store's file, so an outage of days needs no one. A batch that is sealed before
 * it was sent becomes owed ranges; those are read with `range` of the store. Rows may be given twice, never left out.
 */
export interface BatchLog {
  /** Calls `listener` each time that a batch was stored, so that a follower need not look often; what is given ends that. */
  onStored(listener: () => void): () => void;
  /** Makes the follower known; one that is new begins with what is stored from now on. */
  follow(follower: string): Promise<void>;
  /** The oldest batch after the follower's cursor; null when there is none now. Does not move the cursor. */
  nextBatch(follower: string): Promise<SeriesBatch | null>;
  /** The follower has had all batches up to `id`. */
  sent(follower: string, id: number): Promise<void>;
  /** Up to `limit` ranges that it is owed, oldest first. */
  owed(follower: string, limit: number): Promise<readonly OwedRange[]>;
  /** Before it reads a range that it is owed: what is owed anew from here on stays so, though the range is paid. */
  paying(follower: string): Promise<void>;
  /** It has had this range; what of a longer one is left stays owed. */
  paid(follower: string, range: OwedRange): Promise<void>;
  /** A past stretch is to be sent again. */
  owe(follower: string, ranges: readonly OwedRange[]): Promise<void>;
  behind(follower: string): Promise<Behind>;
}
