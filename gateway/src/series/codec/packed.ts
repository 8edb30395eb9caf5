import { constants, zstdCompressSync, zstdDecompressSync } from "node:zlib";
import { ByteReader, ByteWriter } from "./bytes.ts";

const stored = 0;
const zstd = 1;
/** Below it a frame of zstd costs more than it saves. */
const minCompressed = 64;
const headBytes = 5;
/** Nothing that this store writes is longer; a damaged length asks for no more memory than this. */
const maxBytes = 256 * 2 ** 20;
const params = {
  [constants.ZSTD_c_compressionLevel]: 3,
  // A sum over the content: a flipped bit is an error, not another value.
  [constants.ZSTD_c_checksumFlag]: 1,
};

/** Bytes as they are kept: compressed (zstd, RFC 8878, with its checksum) where that makes them shorter. */
export function packed(bytes: Uint8Array): Uint8Array {
  const compressed = bytes.length >= minCompressed ? zstdCompressSync(bytes, { params }) : null;
  const isShorter = compressed !== null && compressed.length < bytes.length;
  const writer = new ByteWriter();
  writer.u8(isShorter ? zstd : stored);
  writer.u32(bytes.length);
  writer.put(isShorter ? compressed : bytes);
  return writer.written();
}

/** The bytes that were packed. Throws where they are damaged. */
export function unpacked(bytes: Uint8Array): Uint8Array {
  const reader = new ByteReader(bytes);
  const kind = reader.u8();
  const length = reader.u32();
  if (length > maxBytes) throw new RangeError("damaged: a length that can't be");
  const body = bytes.subarray(headBytes);
  const found =
    kind === zstd
      ? zstdDecompressSync(body, { maxOutputLength: length + 1, chunkSize: Math.max(64, length) })
      : body;
  if (found.length !== length || kind > zstd) throw new RangeError("damaged: its length is another");
  return found;
}
