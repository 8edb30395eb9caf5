import type { Rollups } from "../rollups.ts";
import { ByteReader, ByteWriter } from "./bytes.ts";
import { putFloats, takeFloats } from "./floats.ts";
import { putWhole, takeWhole } from "./ints.ts";
import { packed, unpacked } from "./packed.ts";
import { putBytes, takeBytes } from "./rows.ts";

/** Roll-ups of minutes as they are kept. Their times are whole ms. */
export function packedRollups({ tMs, count, total, least, greatest, rank }: Rollups): Uint8Array {
  const writer = new ByteWriter();
  writer.u32(tMs.length);
  putWhole(writer, tMs, 2);
  putWhole(writer, Float64Array.from(count), 1);
  putFloats(writer, total);
  putFloats(writer, least);
  putFloats(writer, greatest);
  putBytes(writer, rank);
  return packed(writer.written());
}

/** Roll-ups that were kept. Throws where they are damaged. */
export function unpackedRollups(bytes: Uint8Array): Rollups {
  const reader = new ByteReader(unpacked(bytes));
  const size = reader.u32();
  return {
    tMs: takeWhole(reader, size, 2),
    count: Uint32Array.from(takeWhole(reader, size, 1)),
    total: takeFloats(reader, size),
    least: takeFloats(reader, size),
    greatest: takeFloats(reader, size),
    rank: takeBytes(reader, size),
  };
}

/** Roll-ups of the hours of a day, not compressed: a year of them is read at once. */
export function hoursBytes({ tMs, count, total, least, greatest, rank }: Rollups): Uint8Array {
  const writer = new ByteWriter();
  writer.u8(tMs.length);
  for (let index = 0; index < tMs.length; index += 1) {
    for (const column of [tMs, total, least, greatest]) writer.f64(column[index] as number);
    writer.u32(count[index] as number);
    writer.u8(rank[index] as number);
  }
  return writer.written();
}

/** Roll-ups of hours that `hoursBytes` wrote. */
export function hoursOf(bytes: Uint8Array): Rollups {
  const reader = new ByteReader(bytes);
  const size = reader.u8();
  const [tMs, total, least, greatest] = Array.from({ length: 4 }, () => new Float64Array(size)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const count = new Uint32Array(size);
  const rank = new Uint8Array(size);
  for (let index = 0; index < size; index += 1) {
    for (const column of [tMs, total, least, greatest]) column[index] = reader.f64();
    count[index] = reader.u32();
    rank[index] = reader.u8();
  }
  return { tMs, count, total, least, greatest, rank };
}
