import type { Flag } from "../readings/index.ts";
import type { Columns } from "./columns.ts";
import { flagOfRank } from "./flag-rank.ts";
import { beginOf, hourMs, minuteMs, type Rollups, rankOfFlag } from "./rollups.ts";
import type { SeriesBuckets } from "./series-store.ts";

/** A stretch of time, epoch ms, without its end. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

function lengthOf(exactMs: number): { bucketMs: number; unitMs: number } {
  for (const unitMs of [hourMs, minuteMs])
    if (exactMs >= unitMs) return { bucketMs: Math.ceil(exactMs / unitMs) * unitMs, unitMs };
  return { bucketMs: exactMs, unitMs: 1 };
}

/** Sums of buckets of equal length over [fromMs, toMs), aligned to whole lengths: hours, minutes or milliseconds. */
export class BucketSums {
  readonly bucketMs: number;
  /** What the roll-ups that suffice are made of: an hour, a minute; 1: rows. */
  readonly unitMs: number;
  /** What is asked of the store: with roll-ups from the first bucket's edge on, whole units. */
  readonly asked: Stretch;
  private readonly beginMs: number;
  private readonly size: number;
  private readonly count: number[];
  private readonly total: Float64Array;
  private readonly least: Float64Array;
  private readonly greatest: Float64Array;
  private readonly rank: Uint8Array;

  constructor({ fromMs, toMs }: Stretch, buckets: number) {
    const { bucketMs, unitMs } = lengthOf(Math.max(1, Math.ceil((toMs - fromMs) / buckets)));
    this.bucketMs = bucketMs;
    this.unitMs = unitMs;
    this.beginMs = beginOf(fromMs, bucketMs);
    this.size = Math.max(0, Math.ceil((toMs - this.beginMs) / bucketMs));
    this.asked =
      unitMs === 1 ? { fromMs, toMs } : { fromMs: this.beginMs, toMs: Math.ceil(toMs / unitMs) * unitMs };
    this.count = new Array(this.size).fill(0);
    this.total = new Float64Array(this.size);
    this.least = new Float64Array(this.size).fill(Number.POSITIVE_INFINITY);
    this.greatest = new Float64Array(this.size).fill(Number.NEGATIVE_INFINITY);
    this.rank = new Uint8Array(this.size);
  }

  /** Adds rows; those outside of what is asked are passed over. */
  addRows({ tMs, values, flags }: Columns): void {
    for (let index = 0; index < tMs.length; index += 1) {
      const at = tMs[index] as number;
      if (at < this.asked.fromMs || at >= this.asked.toMs) continue;
      const value = values[index] as number;
      const isMissing = Number.isNaN(value);
      this.add(
        Math.floor((at - this.beginMs) / this.bucketMs),
        isMissing ? 0 : 1,
        { total: isMissing ? 0 : value, least: value, greatest: value },
        rankOfFlag(flags[index] as number),
      );
    }
  }

  /** Adds roll-ups of whole units, but for those in stretches that were added as rows; these are in order. */
  addRollups(rollups: Rollups, without: readonly Stretch[]): void {
    let next = 0;
    for (let index = 0; index < rollups.tMs.length; index += 1) {
      const at = rollups.tMs[index] as number;
      if (at < this.asked.fromMs || at >= this.asked.toMs) continue;
      while (next < without.length && (without[next] as Stretch).toMs <= at) next += 1;
      if (next < without.length && (without[next] as Stretch).fromMs <= at) continue;
      this.add(
        Math.floor((at - this.beginMs) / this.bucketMs),
        rollups.count[index] as number,
        {
          total: rollups.total[index] as number,
          least: rollups.least[index] as number,
          greatest: rollups.greatest[index] as number,
        },
        rollups.rank[index] as number,
      );
    }
  }

  /** Adds a bucket that somebody else has summed up; it begins at `tMs`. */
  addBucket(
    tMs: number,
    { count, ...sums }: { count: number; total: number; least: number; greatest: number },
  ): void {
    const at = this.indexOf(tMs);
    if (at !== null) this.add(at, count, sums, 0);
  }

  /** Adds a flag's place in the precedence to the bucket that begins at `tMs`. */
  addRank(tMs: number, rank: number): void {
    const at = this.indexOf(tMs);
    if (at !== null) this.rank[at] = Math.max(this.rank[at] as number, rank);
  }

  private indexOf(tMs: number): number | null {
    const at = Math.floor((tMs - this.beginMs) / this.bucketMs);
    return at >= 0 && at < this.size ? at : null;
  }

  private add(
    at: number,
    count: number,
    { total, least, greatest }: { total: number; least: number; greatest: number },
    rank: number,
  ): void {
    if (rank > (this.rank[at] as number)) this.rank[at] = rank;
    if (count === 0) return;
    this.count[at] = (this.count[at] as number) + count;
    this.total[at] = (this.total[at] as number) + total;
    if (least < (this.least[at] as number)) this.least[at] = least;
    if (greatest > (this.greatest[at] as number)) this.greatest[at] = greatest;
  }

  result(): SeriesBuckets {
    const { size, bucketMs, beginMs, count } = this;
    const ofValues = (give: (at: number) => number) =>
      Array.from({ length: size }, (_, at) => (count[at] === 0 ? null : give(at)));
    return {
      bucketMs,
      t: Array.from({ length: size }, (_, at) => beginMs + at * bucketMs),
      min: ofValues((at) => this.least[at] as number),
      mean: ofValues((at) => (this.total[at] as number) / (count[at] as number)),
      max: ofValues((at) => this.greatest[at] as number),
      count,
      flag: Array.from(this.rank, (rank): Flag => flagOfRank(rank)),
    };
  }
}

/** Buckets of a series that nothing is known of. */
export function emptyBuckets(stretch: Stretch, buckets: number): SeriesBuckets {
  return new BucketSums(stretch, buckets).result();
}
