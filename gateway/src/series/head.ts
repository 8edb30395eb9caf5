import { type Columns, columnsFor, type RowBatch } from "./columns.ts";
import { besideBit } from "./row-batch.ts";

/** Rows of one chunk of the head: 21 bytes each. */
const chunkRows = 32_768;

/** A chunk as another thread takes it: shared memory, and the number of its first row. */
interface ChunkHandle {
  readonly firstRow: number;
  readonly buffer: SharedArrayBuffer;
}

/** The head as it is at one moment, for another thread. Rows below `toRow` do not change any more. */
export interface HeadView {
  readonly chunks: readonly ChunkHandle[];
  readonly toRow: number;
}

type Chunk = RowBatch & ChunkHandle;

/** The columns of a chunk's memory. */
function chunkOf({ firstRow, buffer }: ChunkHandle): Chunk {
  return {
    firstRow,
    buffer,
    tMs: new Float64Array(buffer, 0, chunkRows),
    values: new Float64Array(buffer, 8 * chunkRows, chunkRows),
    series: new Uint32Array(buffer, 16 * chunkRows, chunkRows),
    flags: new Uint8Array(buffer, 20 * chunkRows, chunkRows),
  };
}

/** Memory of chunks that is kept for the next ones: whoever waits for its collection holds a year of rows. */
const maxSpare = 16;

/** Rows that came and are not in the file yet: typed columns in memory that the store's threads see too. */
export class SeriesHead {
  private chunks: Chunk[] = [];
  /** Memory of chunks that the file has: nobody may look at it any more before it is spare. */
  private resting: SharedArrayBuffer[] = [];
  private spare: SharedArrayBuffer[] = [];
  private current: Chunk;
  private at = 0;
  /** The number of the next row: they are counted over the life of the file. */
  private committedRow: number;
  /** The number of the last row that goes beside what stands, and one more. */
  private besideTo = 0;

  constructor(firstRow: number) {
    this.committedRow = firstRow;
    this.current = this.newChunk(firstRow);
    this.chunks.push(this.current);
  }

  private newChunk(firstRow: number): Chunk {
    const buffer = this.spare.pop() ?? new SharedArrayBuffer(21 * chunkRows);
    return chunkOf({ firstRow, buffer });
  }

  append(series: number, tMs: number, value: number, flag: number): void {
    if (this.at === chunkRows) {
      this.current = this.newChunk(this.current.firstRow + chunkRows);
      this.chunks.push(this.current);
      this.at = 0;
    }
    const { current, at } = this;
    current.series[at] = series;
    current.tMs[at] = tMs;
    current.values[at] = value;
    current.flags[at] = flag;
    this.at = at + 1;
    if (flag & besideBit) this.besideTo = this.toRow;
  }

  get toRow(): number {
    return this.current.firstRow + this.at;
  }
  /** Rows that the file does not have yet. */
  get waiting(): number {
    return this.toRow - this.committedRow;
  }
  /** Whether a row waits whose time is settled only once the file has it. */
  get hasBeside(): boolean {
    return this.besideTo > this.committedRow;
  }

  view(): HeadView {
    return { chunks: this.chunks.map(({ firstRow, buffer }) => ({ firstRow, buffer })), toRow: this.toRow };
  }

  /** The file has all rows below `row`: chunks that nobody needs any more go. */
  committed(row: number): void {
    this.committedRow = Math.max(this.committedRow, row);
    while (this.chunks.length > 1 && (this.chunks[0] as Chunk).firstRow + chunkRows <= this.committedRow)
      this.resting.push((this.chunks.shift() as Chunk).buffer);
  }

  /** No view of the head is in use: memory of chunks that went may be used again. */
  reuse(): void {
    if (this.resting.length === 0) return;
    this.spare = [...this.spare, ...this.resting].slice(0, maxSpare);
    this.resting = [];
  }
}

/** Rows [fromRow, toRow) of the head, in the order in which they came. */
export function headRows({ chunks, toRow }: HeadView, fromRow: number): RowBatch {
  const count = Math.max(0, toRow - fromRow);
  const rows = { series: new Uint32Array(count), ...columnsFor(count) };
  for (const handle of chunks) {
    const chunk = chunkOf(handle);
    const from = Math.max(fromRow, chunk.firstRow);
    const to = Math.min(toRow, chunk.firstRow + chunkRows);
    if (from >= to) continue;
    for (const name of ["series", "tMs", "values", "flags"] as const)
      rows[name].set(chunk[name].subarray(from - chunk.firstRow, to - chunk.firstRow), from - fromRow);
  }
  return rows;
}

/** Rows of one series in the head from `fromRow` on, in the order in which they came. */
export function headRowsOf({ chunks, toRow }: HeadView, fromRow: number, series: number): Columns {
  const found: { readonly chunk: Chunk; readonly index: number }[] = [];
  for (const handle of chunks) {
    const chunk = chunkOf(handle);
    const to = Math.min(toRow - chunk.firstRow, chunkRows);
    for (let index = Math.max(0, fromRow - chunk.firstRow); index < to; index += 1)
      if (chunk.series[index] === series) found.push({ chunk, index });
  }
  const rows = columnsFor(found.length);
  for (const [at, { chunk, index }] of found.entries()) {
    rows.tMs[at] = chunk.tMs[index] as number;
    rows.values[at] = chunk.values[index] as number;
    rows.flags[at] = (chunk.flags[index] as number) & ~besideBit;
  }
  return rows;
}
