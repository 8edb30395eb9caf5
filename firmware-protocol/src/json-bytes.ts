/** Where bytes of JSON are read. */
export interface Cursor {
  readonly bytes: Uint8Array;
  at: number;
}

/** At the begin of bytes. */
export const cursorAt = (bytes: Uint8Array): Cursor => ({ bytes, at: 0 });

/** Goes past white space (RFC 8259 §2). */
export function skipSpace(cursor: Cursor): void {
  const { bytes } = cursor;
  let { at } = cursor;
  for (
    let byte = bytes[at];
    byte === 0x20 || byte === 0x0a || byte === 0x0d || byte === 0x09;
    byte = bytes[at]
  )
    at += 1;
  cursor.at = at;
}

/** Short texts that were read, by a hash of their bytes: the same names and units come again and again. */
const known: (string | undefined)[] = new Array(1024).fill(undefined);
const longestKnown = 64;

function isText(text: string, bytes: Uint8Array, from: number): boolean {
  for (let place = 0; place < text.length; place += 1)
    if (text.charCodeAt(place) !== bytes[from + place]) return false;
  return true;
}

/**
 * Reads a text in quotes and goes past it; null where none stands here, or one with escapes, control characters, signs
 * beyond ASCII, or of more than 64.
 */
export function readText(cursor: Cursor): string | null {
  const { bytes, at } = cursor;
  if (bytes[at] !== 0x22) return null;
  const from = at + 1;
  let hash = 0;
  for (let place = from; place - from <= longestKnown; place += 1) {
    const byte = bytes[place];
    if (byte === undefined || byte < 0x20 || byte >= 0x80 || byte === 0x5c) return null;
    if (byte !== 0x22) {
      hash = (Math.imul(hash, 31) + byte) | 0;
      continue;
    }
    cursor.at = place + 1;
    const slot = (hash ^ (hash >>> 10)) & 1023;
    const before = known[slot];
    if (before !== undefined && before.length === place - from && isText(before, bytes, from)) return before;
    const text = String.fromCharCode(...bytes.subarray(from, place));
    known[slot] = text;
    return text;
  }
  return null;
}

/** The signs of a short name in one number, in their order; 0 for an empty one. */
export function packed(name: string): number {
  let sum = 0;
  for (let place = 0; place < name.length; place += 1) sum = sum * 256 + name.charCodeAt(place);
  return sum;
}

/** Reads a text of at most 4 plain signs as `packed` gives it, and goes past it; −1 where something else stands here. */
export function readPacked(cursor: Cursor): number {
  const { bytes, at } = cursor;
  if (bytes[at] !== 0x22) return -1;
  let sum = 0;
  for (let place = at + 1; place <= at + 5; place += 1) {
    const byte = bytes[place];
    if (byte === 0x22) {
      cursor.at = place + 1;
      return sum;
    }
    if (byte === undefined || byte < 0x20 || byte >= 0x80 || byte === 0x5c) return -1;
    sum = sum * 256 + byte;
  }
  return -1;
}

/** Powers of ten that a double holds exactly. */
const exactPowers = Float64Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));
/** So many digits always fit into the 53 bits of a double. */
const exactDigits = 15;

const isDigit = (byte: number | undefined): byte is number =>
  byte !== undefined && byte >= 0x30 && byte <= 0x39;

function textOf(bytes: Uint8Array, from: number, to: number): string {
  let text = "";
  for (let place = from; place < to; place += 1) text += String.fromCharCode(bytes[place] as number);
  return text;
}

function pastDigits(bytes: Uint8Array, from: number): number {
  let at = from;
  while (isDigit(bytes[at])) at += 1;
  return at;
}

/** Where a number's exponent ends; `from` where there is none, −1 where it has no digit. */
function pastExponent(bytes: Uint8Array, from: number): number {
  if (bytes[from] !== 0x65 && bytes[from] !== 0x45) return from;
  const begin = bytes[from + 1] === 0x2b || bytes[from + 1] === 0x2d ? from + 2 : from + 1;
  const end = pastDigits(bytes, begin);
  return end === begin ? -1 : end;
}

/**
 * Reads a number (RFC 8259 §6) and goes past it; NaN where none stands here. The same double as JSON.parse gives: up to 15
 * digits over a power of ten up to 10^22 are one exact division (W. D. Clinger, How to read floating point numbers
 * accurately, PLDI 1990), all others are left to the language.
 */
export function readNumber(cursor: Cursor): number {
  const { bytes, at } = cursor;
  const isNegative = bytes[at] === 0x2d;
  const from = isNegative ? at + 1 : at;
  let place = from;
  let digits = 0;
  for (let byte = bytes[place]; isDigit(byte); byte = bytes[place]) {
    digits = digits * 10 + (byte - 0x30);
    place += 1;
  }
  // No digit, or a nought before others.
  if (place === from || (bytes[from] === 0x30 && place > from + 1)) return Number.NaN;
  let fraction = 0;
  if (bytes[place] === 0x2e) {
    const begin = place + 1;
    place = begin;
    for (let byte = bytes[place]; isDigit(byte); byte = bytes[place]) {
      digits = digits * 10 + (byte - 0x30);
      place += 1;
    }
    fraction = place - begin;
    if (fraction === 0) return Number.NaN;
  }
  const end = pastExponent(bytes, place);
  if (end < 0) return Number.NaN;
  cursor.at = end;
  const length = place - from - (fraction > 0 ? 1 : 0);
  if (end > place || length > exactDigits) return Number(textOf(bytes, at, end));
  const value = digits / (exactPowers[fraction] as number);
  return isNegative ? -value : value;
}
