import { type Cursor, cursorAt, packed, readNumber, readPacked, readText, skipSpace } from "./json-bytes.ts";
import { PackForm, type PackForms, type RecordForm } from "./pack-form.ts";
import { mostRecords } from "./records.ts";
import { absoluteFromS, isAllowedName, type ResolvedPack, type ResolvedRecord } from "./resolve.ts";
import { unitMeaning } from "./units.ts";

/**
 * The labels that are taken here, each with its place: texts, then numbers, then the truth value. By places in arrays and
 * not by names in objects: that took as long as all the rest.
 */
const places = { bn: 0, bu: 1, n: 2, u: 3, bt: 4, v: 5, t: 6, boot: 7, seq: 8, up: 9, vb: 10 } as const;
const placeOf = new Map(Object.entries(places).map(([label, place]) => [packed(label), place]));
const firstNumber = places.bt;

/** A record as it is read; a label counts only where its bit is in `seen`. */
let seen = 0;
const texts = ["", "", "", ""];
const numbers = new Float64Array(places.vb);
let truth = false;
/** Begin and end of each number of the pack so far, and by a label's place which of them it is: −1 where it had none. */
const spans: (readonly [from: number, to: number])[] = [];
const spots = new Int16Array(places.vb).fill(-1);
const has = (place: number): boolean => (seen & (1 << place)) !== 0;

const openBracket = 0x5b;
const closeBracket = 0x5d;
const openBrace = 0x7b;
const closeBrace = 0x7d;
const comma = 0x2c;
const colon = 0x3a;

/** Takes a sign, with white space before it; false where another stands there. */
function takeSign(cursor: Cursor, sign: number): boolean {
  skipSpace(cursor);
  if (cursor.bytes[cursor.at] !== sign) return false;
  cursor.at += 1;
  return true;
}

const words = { true: [0x74, 0x72, 0x75, 0x65], false: [0x66, 0x61, 0x6c, 0x73, 0x65] } as const;
function takeWord(cursor: Cursor, word: keyof typeof words): boolean {
  const { bytes, at } = cursor;
  if (!words[word].every((sign, place) => bytes[at + place] === sign)) return false;
  cursor.at += word.length;
  return true;
}

function takeValue(cursor: Cursor, place: number): boolean {
  if (place < firstNumber) {
    const text = readText(cursor);
    if (text === null) return false;
    texts[place] = text;
    return true;
  }
  if (place === places.vb) {
    truth = takeWord(cursor, "true");
    return truth || takeWord(cursor, "false");
  }
  const from = cursor.at;
  const value = readNumber(cursor);
  numbers[place] = value;
  spots[place] = spans.length;
  spans.push([from, cursor.at]);
  return Number.isFinite(value);
}

/** Reads one record; false where it is not a plain one. */
function takeRecord(cursor: Cursor): boolean {
  seen = 0;
  if (!takeSign(cursor, openBrace)) return false;
  do {
    skipSpace(cursor);
    const place = placeOf.get(readPacked(cursor));
    // Of a label that comes twice the last one holds: left to the whole way.
    if (place === undefined || has(place) || !takeSign(cursor, colon)) return false;
    skipSpace(cursor);
    if (!takeValue(cursor, place)) return false;
    seen |= 1 << place;
  } while (takeSign(cursor, comma));
  return takeSign(cursor, closeBrace);
}

/** Base fields in force (RFC 8428 §4.6), and which of the pack's numbers the base time is. */
interface Base {
  bn: string;
  bt: number;
  bu: string | null;
  btSpot: number;
}

const textAt = (place: number): string => texts[place] as string;
const numberAt = (place: number): number => numbers[place] as number;

function takeBase(base: Base): void {
  if (has(places.bn)) base.bn = textAt(places.bn);
  if (has(places.bt)) {
    base.bt = numberAt(places.bt);
    base.btSpot = spots[places.bt] as number;
  }
  if (has(places.bu)) base.bu = textAt(places.bu);
}

/** The record that was read, resolved; null where something of it is to be refused. */
function resolved(base: Base, index: number): ResolvedRecord | null {
  const isNumber = has(places.v);
  if (isNumber === has(places.vb)) return null;
  const name = has(places.n) ? base.bn + textAt(places.n) : base.bn;
  const s = base.bt + (has(places.t) ? numberAt(places.t) : 0);
  if (!isAllowedName(name) || !Number.isFinite(s)) return null;
  const unit = has(places.u) ? textAt(places.u) : base.bu;
  const time = { relative: s < absoluteFromS, s };
  if (!isNumber) return { name, unit, value: truth, isData: false, sum: null, time, index };
  // Base value 0 and what was said: −0 becomes 0.
  const said = 0 + numberAt(places.v);
  if (unit === null) return { name, unit, value: said, isData: false, sum: null, time, index };
  const meaning = unitMeaning(unit, 10);
  if (!meaning.ok) return null;
  const value = said * meaning.scale + meaning.offset;
  if (!Number.isFinite(value)) return null;
  return { name, unit: meaning.unit, value, isData: false, sum: null, time, index };
}

/** The record that was read and is good, without its numbers. */
function formOf(base: Base, { name, unit, index }: ResolvedRecord): RecordForm {
  const spotOf = (place: number) => (has(place) ? (spots[place] as number) : -1);
  const said = has(places.u) ? textAt(places.u) : base.bu;
  const meaning = said === null ? null : unitMeaning(said, 10);
  const { scale, offset } = meaning?.ok ? meaning : { scale: 1, offset: 0 };
  const own = { value: spotOf(places.v), time: spotOf(places.t), baseTime: base.btSpot };
  return { name, unit, scale, offset, truth, spots: own, index };
}

const bitOf = (place: number): number => 1 << place;
const ownContent = bitOf(places.n) | bitOf(places.v) | bitOf(places.vb);
const nodes = bitOf(places.boot) | bitOf(places.seq) | bitOf(places.up);
const ownLabels = ["boot", "seq", "up"] as const;

/**
 * A JSON pack as nodes usually write it, read and resolved in one pass over its bytes: without escapes, with the labels
 * above, each good. Null for every other one, whatever is the matter with it: `decodePack` and `resolvePack` say. What
 * is given is what those two would give. `forms`: those of its node; a pack of a form that is not among them adds it.
 */
export function readPlainPack(bytes: Uint8Array, forms?: PackForms): ResolvedPack | null {
  const known = forms?.read(bytes);
  if (known) return known;
  const cursor = cursorAt(bytes);
  const base: Base = { bn: "", bt: 0, bu: null, btSpot: -1 };
  const records: ResolvedRecord[] = [];
  const ownForms: RecordForm[] = [];
  const labels: Record<string, unknown> = {};
  const labelSpots: [label: string, spot: number][] = [];
  spans.length = 0;
  if (!takeSign(cursor, openBracket)) return null;
  for (let index = 0; index < mostRecords; index += 1) {
    if (!takeRecord(cursor)) return null;
    const own = seen & nodes;
    if (own !== 0 && index > 0) return null;
    for (const label of ownLabels)
      if (has(places[label])) {
        labels[label] = numberAt(places[label]);
        labelSpots.push([label, spots[places[label]] as number]);
      }
    takeBase(base);
    if ((seen & ownContent) !== 0) {
      const record = resolved(base, index);
      if (record === null) return null;
      records.push(record);
      if (forms) ownForms.push(formOf(base, record));
    } else if (has(places.bn) && own === 0) return null;
    if (takeSign(cursor, comma)) continue;
    if (!takeSign(cursor, closeBracket)) return null;
    skipSpace(cursor);
    if (cursor.at !== bytes.length) return null;
    const form = forms && PackForm.of({ bytes, numbers: spans, records: ownForms, labels: labelSpots });
    if (form) forms.keep(form);
    return { records, refusals: [], labels };
  }
  return null;
}
