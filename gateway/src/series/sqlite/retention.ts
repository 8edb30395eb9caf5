import { inTransaction } from "../../database/index.ts";
import { beginOf, dayMs } from "../rollups.ts";
import type { BlockFile } from "./block-file.ts";

/** How long rows are kept; roll-ups stay. */
export interface Retention {
  /** Rows older than the newest one by more than this go; 5 years. */
  readonly keepMs: number;
  /** The file's size, bytes; the oldest days go first. */
  readonly keepBytes: number;
}

/** Unless it is said otherwise. */
export const usualRetention: Retention = { keepMs: 5 * 366 * dayMs, keepBytes: Number.POSITIVE_INFINITY };
/** So many days without a reading, in the stretch that is kept, are passed over before its days are no longer counted. */
const maxEmptyDays = 400;
/** Pages that are given back to the disk at once, 4 kB each: a day of some series. */
const maxPagesAtOnce = 4000;

interface Edges {
  readonly oldestMs: number;
  readonly newestMs: number;
}

/** The day that runs is never let go: what comes on it would have no place. */
function isLastDay({ oldestMs, newestMs }: Edges): boolean {
  return beginOf(oldestMs, dayMs) >= beginOf(newestMs, dayMs);
}

/** Lets the rows of the oldest days go, all series together; their roll-ups of minutes and hours stay. */
export class Retaining {
  private readonly file: BlockFile;
  private readonly retention: Retention;
  private readonly lastCameMs: () => number | null;

  /** `lastCameMs`: the time of the rows that came last; null before any came. */
  constructor(file: BlockFile, retention: Retention, lastCameMs: () => number | null) {
    this.file = file;
    this.retention = retention;
    this.lastCameMs = lastCameMs;
  }

  /** Bytes of the file that are in use. */
  bytes(): number {
    const of = (pragma: string) =>
      Object.values(this.file.sql(`PRAGMA ${pragma}`).get() as Record<string, number>)[0] as number;
    return (of("page_count") - of("freelist_count")) * of("page_size");
  }

  private edges(): Edges | null {
    const row = this.file
      .sql(
        "SELECT min((SELECT min(begin) FROM block WHERE series = s.id)) AS oldest, max((SELECT max(begin) FROM block WHERE series = s.id)) AS newest FROM series s",
      )
      .get();
    return row?.oldest == null ? null : { oldestMs: row.oldest as number, newestMs: row.newest as number };
  }

  /** Lets one day go where the file is too big or it is too old; false where nothing need go. */
  step(): boolean {
    const edges = this.edges();
    if (!edges || isLastDay(edges)) return false;
    // By what comes now: what a clock that was years ahead once left must not let a day go at each look, for ever.
    const newestMs = Math.min(edges.newestMs, this.lastCameMs() ?? Number.NEGATIVE_INFINITY);
    const isOld =
      beginOf(edges.oldestMs, dayMs) + dayMs <= newestMs - this.retention.keepMs &&
      this.isLived(edges.oldestMs, newestMs);
    if (!isOld && this.bytes() <= this.retention.keepBytes) return false;
    this.forgetDay(beginOf(edges.oldestMs, dayMs));
    return true;
  }

  /**
   * Whether as many days as are kept hold readings between the oldest and the one that runs: a clock that is a year ahead,
   * or was while the machine was off, makes nothing older than it is. What is kept longer so, where a gateway often rests,
   * is bounded by size and space.
   */
  private isLived(oldestMs: number, newestMs: number): boolean {
    const days = Math.floor(this.retention.keepMs / dayMs);
    const has = this.file.sql(
      "SELECT EXISTS (SELECT 1 FROM series s WHERE EXISTS (SELECT 1 FROM block WHERE series = s.id AND begin >= ? AND begin < ?)) AS is_there",
    );
    let [lived, empty] = [0, 0];
    for (let day = beginOf(newestMs, dayMs) - dayMs; day > oldestMs && lived < days; day -= dayMs) {
      if (has.get(day, day + dayMs)?.is_there === 1) lived += 1;
      else empty += 1;
      if (empty > maxEmptyDays) return false;
    }
    return lived >= days;
  }

  /**
   * Lets the oldest day go, since the disk is short of space; gives the bytes that came free, 0 where there is no more. Null, and
   * no day goes, while another program reads the file as it was before: the disk would get nothing for it.
   */
  freeOldest(): number | null {
    const edges = this.edges();
    if (!edges || isLastDay(edges)) return 0;
    if (!this.putLog()) return null;
    const before = this.bytes();
    this.forgetDay(beginOf(edges.oldestMs, dayMs));
    this.putLog();
    return before - this.bytes();
  }

  /**
   * Puts the log of what was written into the file, which becomes shorter only then: until 16 MB are logged each day that goes
   * takes room. False while a reader needs what was there.
   */
  private putLog(): boolean {
    const { busy, log, checkpointed } = this.file.sql("PRAGMA wal_checkpoint(PASSIVE)").get() as {
      readonly busy: number;
      readonly log: number;
      readonly checkpointed: number;
    };
    return busy === 0 && log === checkpointed;
  }

  private forgetDay(beginMs: number): void {
    const { database } = this.file;
    inTransaction(database, () => {
      for (const { id } of this.file.sql("SELECT id FROM series").all())
        this.file
          .sql("DELETE FROM block WHERE series = ? AND begin >= ? AND begin < ?")
          .run(id as number, beginMs, beginMs + dayMs);
    });
    database.exec(`PRAGMA incremental_vacuum(${maxPagesAtOnce})`);
  }
}
