import type { SeriesBatch } from "./batch-log.ts";
import type { Columns } from "./columns.ts";
import { lineHeadOf } from "./line-protocol.ts";

/** What a line holds besides its head at most: fields, two numbers of JavaScript, flag, blanks, line break. */
const restBytes = 80;
const [newline, space, comma, equals] = [10, 32, 44, 61];
const [digit0, letterI, letterQ, letterV] = [48, 105, 113, 118];
/** Times of 13 digits, from 2001 to 2286, are written digit by digit: the first seven stay the same for a quarter of an hour. */
const [leastUsualMs, greatestUsualMs, tailMs] = [1e12, 1e13 - 1, 1e6];

/**
 * Rows of a batch in line protocol, as `lineWith` writes each of them, in one pass over the columns: a text for each line had
 * cost more than all else of sending them.
 */
export class LineText {
  private readonly series: Uint32Array;
  private readonly columns: Columns;
  private readonly heads: readonly Buffer[];
  /** The last value of each series and its text: probes say the same again and again. */
  private readonly lastValues: Float64Array;
  private readonly lastTexts: string[];
  private readonly lineBytes: number;
  private bytes: Buffer = Buffer.alloc(0);
  private at = 0;
  private timeHead = Number.NaN;
  private timeHeadText = "";

  constructor({ names, series, tMs, values, flags }: Omit<SeriesBatch, "id">) {
    this.series = series;
    this.columns = { tMs, values, flags };
    this.heads = names.map((name) => Buffer.from(lineHeadOf(name)));
    this.lastValues = new Float64Array(names.length).fill(Number.NaN);
    this.lastTexts = names.map(() => "");
    this.lineBytes = restBytes + Math.max(0, ...this.heads.map(({ length }) => length));
  }

  /** Rows [from, to), a line each, with a line break between them, UTF-8; they stand until the next call. */
  of(from: number, to: number): Buffer {
    const room = (to - from) * this.lineBytes;
    if (this.bytes.length < room) this.bytes = Buffer.allocUnsafe(room);
    this.at = 0;
    for (let row = from; row < to; row += 1) {
      if (row > from) this.put(newline);
      this.putRow(row);
    }
    return this.bytes.subarray(0, this.at);
  }

  private putRow(row: number): void {
    const number = this.series[row] as number;
    const head = this.heads[number] as Buffer;
    const value = this.columns.values[row] as number;
    const flag = this.columns.flags[row] as number;
    this.bytes.set(head, this.at);
    this.at += head.length;
    if (Number.isFinite(value)) {
      this.put(letterV);
      this.put(equals);
      this.putText(this.textOf(number, value));
      this.put(comma);
    }
    this.put(letterQ);
    this.put(equals);
    if (flag < 10) this.put(digit0 + flag);
    else this.putText(`${flag}`);
    this.put(letterI);
    this.put(space);
    this.putTime(Math.round(this.columns.tMs[row] as number));
  }

  private textOf(number: number, value: number): string {
    if (this.lastValues[number] !== value) {
      this.lastValues[number] = value;
      this.lastTexts[number] = `${value}`;
    }
    return this.lastTexts[number] as string;
  }

  private putTime(tMs: number): void {
    if (!(tMs >= leastUsualMs && tMs <= greatestUsualMs)) {
      this.putText(`${tMs}`);
      return;
    }
    const head = Math.floor(tMs / tailMs);
    if (head !== this.timeHead) {
      this.timeHead = head;
      this.timeHeadText = `${head}`;
    }
    this.putText(this.timeHeadText);
    let tail = tMs - head * tailMs;
    for (let place = this.at + 5; place >= this.at; place -= 1) {
      const rest = Math.floor(tail / 10);
      this.bytes[place] = digit0 + (tail - rest * 10);
      tail = rest;
    }
    this.at += 6;
  }

  private put(byte: number): void {
    this.bytes[this.at] = byte;
    this.at += 1;
  }

  /** Digits, points, signs: one byte each. */
  private putText(text: string): void {
    for (let index = 0; index < text.length; index += 1) this.put(text.charCodeAt(index));
  }
}
