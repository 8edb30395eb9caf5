import { BucketSums, type Stretch } from "../bucket-sums.ts";
import { type Columns, layeredAll, noRows, settled, within } from "../columns.ts";
import { type HeadView, headRowsOf } from "../head.ts";
import { beginOf, dayMs, hourMs } from "../rollups.ts";
import type { SeriesBuckets } from "../series-store.ts";
import type { BlockFile, BlockPlace } from "./block-file.ts";
import type { EarlierStore } from "./earlier-store.ts";

/** About so many rows are given at once. */
const rowsAtOnce = 5000;

/** A part of a range, and where the next one begins; null at the end. */
export interface RangePiece {
  readonly rows: Columns;
  readonly nextMs: number | null;
}

/**
 * What the store knows, put together: the store of the first schema, blocks, parts of batches, and the head, the newer
 * layer above the older one. Whoever calls holds a transaction, so that nothing is moved meanwhile.
 */
export class StoreReader {
  private readonly file: BlockFile;
  earlier: EarlierStore | null;

  constructor(file: BlockFile, earlier: EarlierStore | null) {
    this.file = file;
    this.earlier = earlier;
  }

  /** Rows that lie in no block yet. */
  private fresh(series: number, { fromMs, toMs }: Stretch, head: HeadView | null): Columns {
    const layers = this.file.unsealed(series, fromMs, toMs);
    if (head) {
      const { rows } = this.file.sql("SELECT rows FROM meta").get() as { rows: number };
      layers.push(within(settled(headRowsOf(head, rows, series)), fromMs, toMs));
    }
    return layeredAll(layers);
  }

  /** All rows of [fromMs, toMs), by time. */
  rowsOf(series: number, stretch: Stretch, head: HeadView | null = null): Columns {
    const { fromMs, toMs } = stretch;
    const layers = this.file
      .blocksOf(series, fromMs, toMs)
      .map((block) => within(this.file.blockRows(series, block) ?? noRows, fromMs, toMs));
    const earlier = this.earlier?.rowsOf(series, fromMs, toMs) ?? noRows;
    return layeredAll([earlier, layeredAll(layers), this.fresh(series, stretch, head)]);
  }

  /** Where a part of a range ends that holds about as many rows as are given at once. */
  private pieceEnd(series: number, { fromMs, toMs }: Stretch): number {
    let end = toMs;
    let rows = 0;
    for (const block of this.file.blocksOf(series, fromMs, toMs, 32)) {
      rows += block.rows;
      end = Math.min(toMs, block.beginMs + block.spanMs);
      if (rows >= rowsAtOnce) break;
    }
    const earlier = this.earlier?.firstFrom(series, fromMs) ?? null;
    return earlier === null ? end : Math.min(end, beginOf(earlier, dayMs) + dayMs);
  }

  /** The next rows of [fromMs, toMs); without any only at the end. */
  rangePiece(series: number, { fromMs, toMs }: Stretch, head: HeadView | null): RangePiece {
    for (let from = fromMs; from < toMs; ) {
      const end = this.pieceEnd(series, { fromMs: from, toMs });
      const rows = this.rowsOf(series, { fromMs: from, toMs: end }, head);
      if (rows.tMs.length > 0) return { rows, nextMs: end < toMs ? end : null };
      from = end;
    }
    return { rows: noRows, nextMs: null };
  }

  /** The last row, as columns of one; none where nothing is known. */
  latest(series: number, head: HeadView | null): Columns {
    const ever = { fromMs: Number.MIN_SAFE_INTEGER, toMs: Number.MAX_SAFE_INTEGER };
    const fresh = this.fresh(series, ever, head);
    const earlierMs = this.earlier?.last(series) ?? null;
    const lasts = [
      earlierMs === null ? noRows : (this.earlier?.rowsOf(series, earlierMs, earlierMs + 1) ?? noRows),
      lastOf(this.file.lastRows(series) ?? noRows),
      lastOf(fresh),
    ];
    return lastOf(layeredAll(lasts));
  }

  buckets(series: number, stretch: Stretch, buckets: number, head: HeadView | null): SeriesBuckets {
    const sums = new BucketSums(stretch, buckets);
    const { asked, unitMs } = sums;
    if (unitMs === 1) {
      for (let from: number | null = asked.fromMs; from !== null; ) {
        const piece: RangePiece = this.rangePiece(series, { fromMs: from, toMs: asked.toMs }, head);
        sums.addRows(piece.rows);
        from = piece.nextMs;
      }
      return sums.result();
    }
    const fresh = this.fresh(series, asked, head);
    const asRows = this.stretchesAsRows(series, asked, fresh);
    for (const one of asRows) sums.addRows(this.rowsOf(series, one, head));
    for (const one of gapsBetween(asRows, asked)) sums.addRows(within(fresh, one.fromMs, one.toMs));
    const rolled =
      unitMs === hourMs
        ? this.file.hoursOf(series, asked.fromMs, asked.toMs)
        : this.file.minutesOf(series, asked.fromMs, asked.toMs);
    for (const rollups of rolled) sums.addRollups(rollups, asRows);
    const earlier = this.earlier?.rollupsOf(series, unitMs, asked.fromMs, asked.toMs);
    if (earlier) sums.addRollups(earlier, asRows);
    return sums.result();
  }

  /** Stretches whose roll-ups don't tell it all: blocks with rows above them, days that two stores share. In order. */
  private stretchesAsRows(series: number, asked: Stretch, fresh: Columns): Stretch[] {
    const found: Stretch[] = [];
    const leftBefore = this.earlier?.leftBefore(series) ?? null;
    const { tMs } = fresh;
    const hasFresh = (one: Stretch) => within(fresh, one.fromMs, one.toMs).tMs.length > 0;
    if (leftBefore !== null) {
      const days = new Set<number>();
      for (const at of tMs) if (at < leftBefore) days.add(beginOf(at, dayMs));
      for (const block of this.file.blocksOf(series, asked.fromMs, Math.min(asked.toMs, leftBefore)))
        days.add(beginOf(block.beginMs, dayMs));
      for (const day of days) found.push({ fromMs: day, toMs: day + dayMs });
    }
    if (tMs.length > 0)
      for (const block of this.file.blocksOf(series, tMs[0] as number, (tMs.at(-1) as number) + 1)) {
        const one = stretchOf(block);
        if (hasFresh(one) && !found.some((day) => day.fromMs <= one.fromMs && one.toMs <= day.toMs))
          found.push(one);
      }
    return found.sort((a, b) => a.fromMs - b.fromMs);
  }
}

const stretchOf = ({ beginMs, spanMs }: BlockPlace): Stretch => ({ fromMs: beginMs, toMs: beginMs + spanMs });

function lastOf(rows: Columns): Columns {
  const last = rows.tMs.at(-1);
  return last === undefined ? rows : within(rows, last, Number.POSITIVE_INFINITY);
}

/** What of a stretch lies between others, which are in order. */
function* gapsBetween(others: readonly Stretch[], { fromMs, toMs }: Stretch): Generator<Stretch> {
  let from = fromMs;
  for (const other of others) {
    if (other.fromMs > from) yield { fromMs: from, toMs: Math.min(other.fromMs, toMs) };
    from = Math.max(from, other.toMs);
  }
  if (from < toMs) yield { fromMs: from, toMs };
}
