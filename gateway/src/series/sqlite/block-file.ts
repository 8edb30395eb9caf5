import type { DatabaseSync, StatementSync } from "node:sqlite";
import { ByteReader, ByteWriter } from "../codec/bytes.ts";
import { packed, unpacked } from "../codec/packed.ts";
import { hoursBytes, hoursOf, packedRollups, unpackedRollups } from "../codec/rollups.ts";
import { putRows, takeRows } from "../codec/rows.ts";
import { type Columns, within } from "../columns.ts";
import { beginOf, dayMs, type Rollups } from "../rollups.ts";
import { familyOf, Part } from "./part.ts";

/** Where a block lies: rows of [beginMs, beginMs + spanMs) of one series. */
export interface BlockPlace {
  readonly beginMs: number;
  readonly spanMs: number;
  readonly rows: number;
}

/** A part of a batch with its place in the log. */
export interface PlacedPart {
  readonly id: number;
  readonly part: Part;
}

/** How far a family is sealed: rows before `sealedTo` of parts up to `sealedPart` lie in blocks. */
export interface Sealed {
  readonly sealedTo: number;
  readonly sealedPart: number;
}

/** A part of the file that can't be unpacked; with it stands what no block has, so the file is to be made again. */
export class DamagedPart extends Error {
  constructor(id: number, why: unknown) {
    super(`part ${id} can't be read: ${why instanceof Error ? why.message : String(why)}`);
    this.name = "DamagedPart";
  }
}

const nothingSealed: Sealed = { sealedTo: Number.NEGATIVE_INFINITY, sealedPart: 0 };
/** Unpacked parts that are remembered. */
const maxCachedBytes = 4 * 2 ** 20;
/** Damaged pieces that are told apart. */
const maxNoted = 10_000;

/** Tables of the store's file, as what is kept in them. The statements are made once. */
export class BlockFile {
  readonly database: DatabaseSync;
  private readonly statements = new Map<string, StatementSync>();
  private readonly parts = new Map<number, Part>();
  private cachedBytes = 0;
  /** Blocks and roll-ups that could not be unpacked, by series and place: what they held is missing, all else goes on. */
  readonly unreadable = new Set<string>();

  constructor(database: DatabaseSync) {
    this.database = database;
  }

  sql(text: string): StatementSync {
    const known = this.statements.get(text);
    if (known) return known;
    const made = this.database.prepare(text);
    this.statements.set(text, made);
    return made;
  }

  sealedOf(family: number): Sealed {
    const row = this.sql("SELECT sealed_to, sealed_part FROM family WHERE id = ?").get(family);
    return row ? { sealedTo: row.sealed_to as number, sealedPart: row.sealed_part as number } : nothingSealed;
  }

  /** Parts of a family with rows of [fromMs, toMs), oldest first. */
  *partsOf(family: number, fromMs: number, toMs: number): Generator<PlacedPart> {
    const found = this.sql(
      "SELECT id FROM part WHERE family = ? AND last_ms >= ? AND first_ms < ? ORDER BY id",
    );
    for (const { id } of found.all(family, fromMs, toMs))
      yield { id: id as number, part: this.partAt(id as number) };
  }

  partAt(id: number): Part {
    const known = this.parts.get(id);
    if (known) return known;
    const row = this.sql("SELECT data FROM part WHERE id = ?").get(id) as { data: Uint8Array };
    const part = this.unpackedPart(id, row.data);
    this.parts.set(id, part);
    this.cachedBytes += part.bytes;
    for (const [oldest, { bytes }] of this.parts) {
      if (this.cachedBytes <= maxCachedBytes || oldest === id) break;
      this.parts.delete(oldest);
      this.cachedBytes -= bytes;
    }
    return part;
  }

  private unpackedPart(id: number, data: Uint8Array): Part {
    try {
      return new Part(data);
    } catch (error) {
      throw new DamagedPart(id, error);
    }
  }

  /** What `read` gives; null, and noted under its name, where the bytes are damaged. */
  private ifReadable<Piece>(name: string, read: () => Piece): Piece | null {
    try {
      return read();
    } catch {
      if (this.unreadable.size < maxNoted) this.unreadable.add(name);
      return null;
    }
  }

  /** Forgets unpacked parts: they were removed, or undone. */
  forgetParts(): void {
    this.parts.clear();
    this.cachedBytes = 0;
  }

  /** Blocks of a series that touch [fromMs, toMs), by time. */
  blocksOf(series: number, fromMs: number, toMs: number, limit = -1): BlockPlace[] {
    return this.sql(
      "SELECT begin, span, rows FROM block WHERE series = ? AND begin > ? AND begin < ? AND begin + span > ? ORDER BY begin LIMIT ?",
    )
      .all(series, fromMs - dayMs, toMs, fromMs, limit)
      .map(({ begin, span, rows }) => ({
        beginMs: begin as number,
        spanMs: span as number,
        rows: rows as number,
      }));
  }

  /** Rows of a block; null where it is damaged. */
  blockRows(series: number, { beginMs }: Pick<BlockPlace, "beginMs">): Columns | null {
    const { data } = this.sql("SELECT data FROM block WHERE series = ? AND begin = ?").get(
      series,
      beginMs,
    ) as {
      data: Uint8Array;
    };
    return this.ifReadable(`block ${series} ${beginMs}`, () => takeRows(new ByteReader(unpacked(data))));
  }

  /** Rows of the last block of a series that can be read, and holds any; null where there is none. */
  lastRows(series: number): Columns | null {
    const before = this.sql(
      "SELECT begin FROM block WHERE series = ? AND begin < ? ORDER BY begin DESC LIMIT 1",
    );
    for (let beginMs = Number.MAX_SAFE_INTEGER; ; ) {
      const row = before.get(series, beginMs);
      if (!row) return null;
      beginMs = row.begin as number;
      const rows = this.blockRows(series, { beginMs });
      if (rows && rows.tMs.length > 0) return rows;
    }
  }

  putBlock(series: number, beginMs: number, spanMs: number, rows: Columns): void {
    const writer = new ByteWriter();
    putRows(writer, rows);
    this.sql("INSERT OR REPLACE INTO block (series, begin, span, rows, data) VALUES (?, ?, ?, ?, ?)").run(
      series,
      beginMs,
      spanMs,
      rows.tMs.length,
      packed(writer.written()),
    );
  }

  /** Takes the blocks away that begin in [beginMs, endMs), with their minutes. */
  removeBlocks(series: number, beginMs: number, endMs: number): void {
    for (const table of ["block", "minutes"])
      this.sql(`DELETE FROM ${table} WHERE series = ? AND begin >= ? AND begin < ?`).run(
        series,
        beginMs,
        endMs,
      );
  }

  putMinutes(series: number, beginMs: number, spanMs: number, minutes: Rollups): void {
    this.sql("INSERT OR REPLACE INTO minutes (series, begin, span, data) VALUES (?, ?, ?, ?)").run(
      series,
      beginMs,
      spanMs,
      packedRollups(minutes),
    );
  }

  /** Roll-ups of minutes that touch [fromMs, toMs). */
  *minutesOf(series: number, fromMs: number, toMs: number): Generator<Rollups> {
    const found = this.sql(
      "SELECT begin, data FROM minutes WHERE series = ? AND begin > ? AND begin < ? AND begin + span > ? ORDER BY begin",
    );
    for (const { begin, data } of found.iterate(series, fromMs - dayMs, toMs, fromMs)) {
      const minutes = this.ifReadable(`minutes ${series} ${begin}`, () =>
        unpackedRollups(data as Uint8Array),
      );
      if (minutes) yield minutes;
    }
  }

  putHours(series: number, dayBeginMs: number, hours: Rollups): void {
    this.sql("INSERT OR REPLACE INTO hours (series, day, data) VALUES (?, ?, ?)").run(
      series,
      dayBeginMs,
      hoursBytes(hours),
    );
  }

  hoursOfDay(series: number, dayBeginMs: number): Rollups | null {
    const row = this.sql("SELECT data FROM hours WHERE series = ? AND day = ?").get(series, dayBeginMs);
    if (!row) return null;
    return this.ifReadable(`hours ${series} ${dayBeginMs}`, () => hoursOf(row.data as Uint8Array));
  }

  /** Roll-ups of hours of the days that touch [fromMs, toMs). */
  *hoursOf(series: number, fromMs: number, toMs: number): Generator<Rollups> {
    const found = this.sql(
      "SELECT day, data FROM hours WHERE series = ? AND day >= ? AND day < ? ORDER BY day",
    );
    for (const { day, data } of found.iterate(series, beginOf(fromMs, dayMs), toMs)) {
      const hours = this.ifReadable(`hours ${series} ${day}`, () => hoursOf(data as Uint8Array));
      if (hours) yield hours;
    }
  }

  /** Rows of a series in parts that lie in no block yet, layer by layer, oldest first. */
  unsealed(series: number, fromMs: number, toMs: number): Columns[] {
    const family = familyOf(series);
    const { sealedTo, sealedPart } = this.sealedOf(family);
    const layers: Columns[] = [];
    for (const { id, part } of this.partsOf(family, fromMs, toMs)) {
      const rows = part.rowsOf(series);
      if (!rows) continue;
      const from = id <= sealedPart ? Math.max(fromMs, sealedTo) : fromMs;
      const left = within(rows, from, toMs);
      if (left.tMs.length > 0) layers.push(left);
    }
    return layers;
  }
}
