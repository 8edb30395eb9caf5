/** Bytes that grow as they are written; numbers are little-endian. */
export class ByteWriter {
  private bytes = new Uint8Array(1024);
  private view = new DataView(this.bytes.buffer);
  private used = 0;

  /** Room for so many bytes more; gives where they begin. */
  private claim(count: number): number {
    const at = this.used;
    this.used += count;
    if (this.used > this.bytes.length) {
      const grown = new Uint8Array(Math.max(this.used, 2 * this.bytes.length));
      grown.set(this.bytes);
      this.bytes = grown;
      this.view = new DataView(grown.buffer);
    }
    return at;
  }

  u8(value: number): void {
    const at = this.claim(1);
    this.bytes[at] = value;
  }
  u32(value: number): void {
    const at = this.claim(4);
    this.view.setUint32(at, value, true);
  }
  f64(value: number): void {
    const at = this.claim(8);
    this.view.setFloat64(at, value, true);
  }
  put(bytes: Uint8Array): void {
    const at = this.claim(bytes.length);
    this.bytes.set(bytes, at);
  }
  /** A part of so many bytes, zero at first, to be filled; good until the next call. */
  part(count: number): Uint8Array {
    const at = this.claim(count);
    return this.bytes.subarray(at, at + count);
  }
  /** What was written; shares its memory with the writer. */
  written(): Uint8Array {
    return this.bytes.subarray(0, this.used);
  }
}

/** Reads what a ByteWriter wrote. Throws RangeError beyond the end. */
export class ByteReader {
  private readonly bytes: Uint8Array;
  private readonly view: DataView;
  private at = 0;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }
  u8(): number {
    this.at += 1;
    return this.view.getUint8(this.at - 1);
  }
  u32(): number {
    this.at += 4;
    return this.view.getUint32(this.at - 4, true);
  }
  f64(): number {
    this.at += 8;
    return this.view.getFloat64(this.at - 8, true);
  }
  part(count: number): Uint8Array {
    if (this.at + count > this.bytes.length) throw new RangeError("the bytes end too early");
    this.at += count;
    return this.bytes.subarray(this.at - count, this.at);
  }
}
