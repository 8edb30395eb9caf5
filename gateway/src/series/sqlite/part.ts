import { ByteReader, ByteWriter } from "../codec/bytes.ts";
import { packed, unpacked } from "../codec/packed.ts";
import { putRows, takeRows } from "../codec/rows.ts";
import type { Columns } from "../columns.ts";

/** So many series, with numbers next to each other, are kept together in the parts of a batch. */
export const familySize = 64;

/** The family of a series. */
export function familyOf(series: number): number {
  return Math.floor(series / familySize);
}

/** Rows of series of one family as they are kept: a directory, then the rows of each, packed together. */
export function partBytes(rows: ReadonlyMap<number, Columns>): Uint8Array {
  const directory = new ByteWriter();
  const body = new ByteWriter();
  directory.u32(rows.size);
  for (const [series, columns] of rows) {
    putRows(body, columns);
    directory.u32(series);
    directory.u32(body.written().length);
  }
  directory.put(body.written());
  return packed(directory.written());
}

/** A part that was unpacked: what is asked of it alone is read. */
export class Part {
  private readonly body: Uint8Array;
  private readonly ends = new Map<number, readonly [from: number, to: number]>();
  /** Bytes that it takes in memory. */
  readonly bytes: number;

  constructor(kept: Uint8Array) {
    const bytes = unpacked(kept);
    const reader = new ByteReader(bytes);
    const count = reader.u32();
    let from = 0;
    for (let index = 0; index < count; index += 1) {
      const series = reader.u32();
      const to = reader.u32();
      this.ends.set(series, [from, to]);
      from = to;
    }
    this.body = bytes.subarray(4 + 8 * count);
    this.bytes = bytes.length;
  }

  series(): Iterable<number> {
    return this.ends.keys();
  }

  /** Rows of a series, by time; null where the part has none. */
  rowsOf(series: number): Columns | null {
    const range = this.ends.get(series);
    return range ? takeRows(new ByteReader(this.body.subarray(range[0], range[1]))) : null;
  }
}
