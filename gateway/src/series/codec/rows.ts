import type { Columns } from "../columns.ts";
import type { ByteReader, ByteWriter } from "./bytes.ts";
import { putFloats, takeFloats } from "./floats.ts";
import { putWhole, takeWhole } from "./ints.ts";

const asWhole = 1;
const asBits = 0;

function putTimes(writer: ByteWriter, tMs: Float64Array): void {
  const mark = writer.part(1);
  mark[0] = asWhole;
  if (putWhole(writer, tMs, 2)) return;
  // Nothing was written after the mark, whose memory is still this.
  mark[0] = asBits;
  putFloats(writer, tMs);
}

/** Writes bytes of which most are the same. */
export function putBytes(writer: ByteWriter, bytes: Uint8Array): void {
  const first = bytes[0] ?? 0;
  let areSame = true;
  for (let index = 1; index < bytes.length && areSame; index += 1) areSame = bytes[index] === first;
  writer.u8(areSame ? 1 : 0);
  if (areSame) writer.u8(first);
  else writer.put(bytes);
}

/** Reads `count` bytes that `putBytes` wrote. */
export function takeBytes(reader: ByteReader, count: number): Uint8Array {
  return reader.u8() === 1 ? new Uint8Array(count).fill(reader.u8()) : Uint8Array.from(reader.part(count));
}

/** Writes the rows of one series: times as differences of differences, values as they are shortest, flags. */
export function putRows(writer: ByteWriter, { tMs, values, flags }: Columns): void {
  writer.u32(tMs.length);
  putTimes(writer, tMs);
  putFloats(writer, values);
  putBytes(writer, flags);
}

/** Reads rows that `putRows` wrote: bit by bit what they were. Throws where the bytes are damaged. */
export function takeRows(reader: ByteReader): Columns {
  const count = reader.u32();
  const tMs = reader.u8() === asWhole ? takeWhole(reader, count, 2) : takeFloats(reader, count);
  return { tMs, values: takeFloats(reader, count), flags: takeBytes(reader, count) };
}
