import { type Cursor, readNumber } from "./json-bytes.ts";
import { absoluteFromS, type ResolvedPack, type ResolvedRecord } from "./resolve.ts";

/** Where a number stands in a pack, and which of all its numbers it is: −1 where there is none. */
interface NumberSpots {
  readonly value: number;
  readonly time: number;
  readonly baseTime: number;
}

/** A record of a form: everything of it that is no number. */
export interface RecordForm {
  readonly name: string;
  readonly unit: string | null;
  readonly scale: number;
  readonly offset: number;
  /** What it says where it says no number. */
  readonly truth: boolean;
  readonly spots: NumberSpots;
  readonly index: number;
}

/** What a form is made of. */
interface FormParts {
  readonly bytes: Uint8Array;
  /** Begin and end of each number in the bytes. */
  readonly numbers: readonly (readonly [from: number, to: number])[];
  readonly records: readonly RecordForm[];
  /** Labels of the node's own, and which of the numbers each is. */
  readonly labels: readonly (readonly [label: string, spot: number])[];
}

/** Packs of more bytes are read the usual way: a form holds a copy of them. */
const longestForm = 1024;
const mostNumbers = 256;

/** Numbers of the pack that is being read. */
const read = new Float64Array(mostNumbers);
const cursor: { -readonly [Key in keyof Cursor]: Cursor[Key] } = { bytes: new Uint8Array(), at: 0 };

/**
 * How a pack is written, without its numbers. A node writes the same text again and again and changes only those, so a
 * pack of a known form is compared and not parsed.
 */
export class PackForm {
  private readonly text: Uint8Array;
  /** Where in the text each number lies between two signs. */
  private readonly gaps: Uint16Array;
  private readonly records: readonly RecordForm[];
  private readonly labels: FormParts["labels"];

  private constructor({ bytes, numbers, records, labels }: FormParts) {
    const left = bytes.length - numbers.reduce((sum, [from, to]) => sum + to - from, 0);
    this.text = new Uint8Array(left);
    this.gaps = new Uint16Array(numbers.length);
    let [at, past] = [0, 0];
    for (const [index, [from, to]] of numbers.entries()) {
      this.text.set(bytes.subarray(past, from), at);
      at += from - past;
      past = to;
      this.gaps[index] = at;
    }
    this.text.set(bytes.subarray(past), at);
    this.records = records;
    this.labels = labels;
  }

  /** Null where a pack is too long to keep its form. */
  static of(parts: FormParts): PackForm | null {
    return parts.bytes.length > longestForm || parts.numbers.length > mostNumbers
      ? null
      : new PackForm(parts);
  }

  /** A pack of this form, resolved; null for every other one, and where a number makes it another. */
  read(bytes: Uint8Array): ResolvedPack | null {
    if (!this.readNumbers(bytes)) return null;
    const { records, labels } = this;
    const resolved: ResolvedRecord[] = [];
    for (let index = 0; index < records.length; index += 1) {
      const record = resolvedBy(records[index] as RecordForm);
      if (record === null) return null;
      resolved.push(record);
    }
    const said: Record<string, unknown> = {};
    for (let index = 0; index < labels.length; index += 1) {
      const [label, spot] = labels[index] as FormParts["labels"][number];
      said[label] = read[spot];
    }
    return { records: resolved, refusals: [], labels: said };
  }

  private readNumbers(bytes: Uint8Array): boolean {
    const { text, gaps } = this;
    cursor.bytes = bytes;
    let [at, place] = [0, 0];
    for (let index = 0; index <= gaps.length; index += 1) {
      const end = index < gaps.length ? (gaps[index] as number) : text.length;
      for (; place < end; place += 1, at += 1) if (bytes[at] !== text[place]) return false;
      if (index === gaps.length) break;
      cursor.at = at;
      const value = readNumber(cursor);
      if (!Number.isFinite(value)) return false;
      read[index] = value;
      at = cursor.at;
    }
    return at === bytes.length;
  }
}

/** As `readPlainPack` resolves it: by the same sums in the same order. */
function resolvedBy({ name, unit, scale, offset, truth, spots, index }: RecordForm): ResolvedRecord | null {
  const base = spots.baseTime < 0 ? 0 : (read[spots.baseTime] as number);
  const s = base + (spots.time < 0 ? 0 : (read[spots.time] as number));
  if (!Number.isFinite(s)) return null;
  const time = { relative: s < absoluteFromS, s };
  if (spots.value < 0) return { name, unit, value: truth, isData: false, sum: null, time, index };
  const said = 0 + (read[spots.value] as number);
  const value = unit === null ? said : said * scale + offset;
  if (!Number.isFinite(value)) return null;
  return { name, unit, value, isData: false, sum: null, time, index };
}

/** Forms of one node that are kept: one for each way in which it writes. */
const mostForms = 4;

/** The forms of one node's packs. Bounded: 4, of packs of at most 1 kB. */
export class PackForms {
  private readonly forms: PackForm[] = [];
  private next = 0;

  /** A pack of a known form, resolved; null where it has none. */
  read(bytes: Uint8Array): ResolvedPack | null {
    for (let index = 0; index < this.forms.length; index += 1) {
      const found = (this.forms[index] as PackForm).read(bytes);
      if (found !== null) return found;
    }
    return null;
  }

  /** Keeps one more, in place of the oldest. */
  keep(form: PackForm): void {
    this.forms[this.next] = form;
    this.next = (this.next + 1) % mostForms;
  }
}
