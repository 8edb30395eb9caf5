import type { ByteReader, ByteWriter } from "./bytes.ts";
import { putWhole, takeWhole } from "./ints.ts";

const asBits = 0;
const asDecimals = 1;
const asWords = 2;
const maxDecimals = 12;
// Differences of two of them, coded, are still whole numbers that a double tells apart.
const maxScaled = 2 ** 50;
const maxWords = 65_535;
const powers = Array.from({ length: maxDecimals + 1 }, (_, exponent) => 10 ** exponent);

/** Whether a number is exactly `k / 10^decimals` for a whole k: a number that was written with so many decimals is. */
function isDecimal(value: number, power: number): boolean {
  const scaled = Math.round(value * power);
  return Math.abs(scaled) <= maxScaled && scaled / power === value && !Object.is(value, -0);
}

/**
 * With how many decimals all of these numbers were written, at most 12; null where that is not so. Missing ones (NaN) are
 * passed over. Division of whole numbers below 2^53 by a power of ten up to 10^22 is rounded correctly (IEEE 754), so such a
 * number comes back bit by bit.
 */
export function decimalsOf(values: Float64Array): number | null {
  let decimals = 0;
  for (let index = 0; index < values.length; index += 1) {
    const value = values[index] as number;
    if (Number.isNaN(value)) continue;
    while (!isDecimal(value, powers[decimals] as number)) {
      decimals += 1;
      if (decimals > maxDecimals) return null;
    }
  }
  // More decimals make the numbers greater: the first ones are looked at again.
  for (let index = 0; index < values.length; index += 1) {
    const value = values[index] as number;
    if (!Number.isNaN(value) && !isDecimal(value, powers[decimals] as number)) return null;
  }
  return decimals;
}

/** Distinct numbers and the place of each one among them; null where they are too many to be worth it. */
function wordsOf(values: Float64Array): { words: Float64Array; places: Uint16Array } | null {
  const limit = Math.min(maxWords, values.length >> 2);
  const places = new Uint16Array(values.length);
  const known = new Map<number, number>();
  for (let index = 0; index < values.length; index += 1) {
    const value = values[index] as number;
    // A map takes −0 for 0.
    if (value === 0 && Object.is(value, -0)) return null;
    let place = known.get(value);
    if (place === undefined) {
      if (known.size >= limit) return null;
      place = known.size;
      known.set(value, place);
    }
    places[index] = place;
  }
  return { words: Float64Array.from(known.keys()), places };
}

/** Bits of each number against those of the one before, in byte planes. */
function putBits(writer: ByteWriter, values: Float64Array): void {
  const halves = new Uint32Array(values.buffer, values.byteOffset, 2 * values.length);
  const count = values.length;
  const part = writer.part(8 * count);
  let [beforeLow, beforeHigh] = [0, 0];
  for (let index = 0; index < count; index += 1) {
    const low = halves[2 * index] as number;
    const high = halves[2 * index + 1] as number;
    const [a, b] = [low ^ beforeLow, high ^ beforeHigh];
    for (let plane = 0; plane < 4; plane += 1) {
      part[plane * count + index] = a >>> (8 * plane);
      part[(plane + 4) * count + index] = b >>> (8 * plane);
    }
    beforeLow = low;
    beforeHigh = high;
  }
}

function takeBits(reader: ByteReader, count: number): Float64Array {
  const values = new Float64Array(count);
  const halves = new Uint32Array(values.buffer);
  const part = reader.part(8 * count);
  let [low, high] = [0, 0];
  for (let index = 0; index < count; index += 1) {
    let [a, b] = [0, 0];
    for (let plane = 3; plane >= 0; plane -= 1) {
      a = (a << 8) | (part[plane * count + index] as number);
      b = (b << 8) | (part[(plane + 4) * count + index] as number);
    }
    low ^= a;
    high ^= b;
    halves[2 * index] = low;
    halves[2 * index + 1] = high;
  }
  return values;
}

/** Missing ones told apart, each with the value before it, so that they cost nothing. */
function withoutMissing(values: Float64Array): { values: Float64Array; missing: Uint8Array | null } {
  let isWhole = true;
  for (let index = 0; index < values.length && isWhole; index += 1)
    isWhole = !Number.isNaN(values[index] as number);
  if (isWhole) return { values, missing: null };
  const filled = Float64Array.from(values);
  const missing = new Uint8Array(values.length);
  let before = 0;
  for (let index = 0; index < filled.length; index += 1) {
    const value = filled[index] as number;
    if (!Number.isNaN(value)) before = value;
    else {
      missing[index] = 1;
      filled[index] = before;
    }
  }
  return { values: filled, missing };
}

/** Writes numbers, any of them, NaN for a missing one: as decimals, as a list of few words, or as bits. */
export function putFloats(writer: ByteWriter, given: Float64Array): void {
  const { values, missing } = withoutMissing(given);
  writer.u8(missing ? 1 : 0);
  if (missing) writer.put(missing);
  const decimals = decimalsOf(values);
  if (decimals !== null) {
    const power = powers[decimals] as number;
    writer.u8(asDecimals);
    writer.u8(decimals);
    const scaled = new Float64Array(values.length);
    for (let index = 0; index < values.length; index += 1)
      // Without −0, which a small negative number of a noisy scale would round to.
      scaled[index] = Math.round((values[index] as number) * power) + 0;
    putWhole(writer, scaled, 1);
    return;
  }
  const list = wordsOf(values);
  if (list) {
    writer.u8(asWords);
    writer.u32(list.words.length);
    putBits(writer, list.words);
    putWhole(writer, Float64Array.from(list.places), 1);
    return;
  }
  writer.u8(asBits);
  putBits(writer, values);
}

/** Reads `count` numbers that `putFloats` wrote. */
export function takeFloats(reader: ByteReader, count: number): Float64Array {
  const missing = reader.u8() === 1 ? reader.part(count) : null;
  const values = takeValues(reader, count);
  if (missing) for (let index = 0; index < count; index += 1) if (missing[index]) values[index] = Number.NaN;
  return values;
}

function takeValues(reader: ByteReader, count: number): Float64Array {
  const kind = reader.u8();
  if (kind === asBits) return takeBits(reader, count);
  if (kind === asDecimals) {
    const power = powers[reader.u8()];
    if (power === undefined) throw new RangeError("damaged: decimals that can't be");
    const values = takeWhole(reader, count, 1);
    for (let index = 0; index < count; index += 1) values[index] = (values[index] as number) / power;
    return values;
  }
  if (kind !== asWords) throw new RangeError("damaged: a column of an unknown kind");
  const words = takeBits(reader, reader.u32());
  const places = takeWhole(reader, count, 1);
  return places.map((place) => words[place] as number);
}
