import { existsSync, rmSync } from "node:fs";
import { DatabaseSync } from "node:sqlite";
import type { Columns } from "../columns.ts";
import { columnsFor } from "../columns.ts";
import { beginOf, dayMs, hourMs, type Rollups } from "../rollups.ts";
import type { BlockFile } from "./block-file.ts";

/** A store of the first schema beside the new one: it is read, and moved day by day; it is never written. */
export class EarlierStore {
  private readonly database: DatabaseSync;
  private readonly file: BlockFile;
  /** Its numbers of series, by those of the new store. */
  private readonly ids = new Map<number, number>();

  /** `numberOf` gives the new store's number of a name. */
  constructor(path: string, file: BlockFile, numberOf: (name: string) => number | undefined) {
    this.file = file;
    this.database = new DatabaseSync(path, { readOnly: true });
    for (const { id, name } of this.database.prepare("SELECT id, name FROM series").all()) {
      const number = numberOf(name as string);
      if (number !== undefined) this.ids.set(number, id as number);
    }
  }

  static namesIn(path: string): string[] {
    const database = new DatabaseSync(path, { readOnly: true });
    try {
      return database
        .prepare("SELECT name FROM series ORDER BY id")
        .all()
        .map(({ name }) => name as string);
    } finally {
      database.close();
    }
  }

  series(): Iterable<number> {
    return this.ids.keys();
  }

  /** Rows of a series before this time are not moved yet, epoch ms; null where it has none here. */
  leftBefore(series: number): number | null {
    if (!this.ids.has(series)) return null;
    const row = this.file.sql("SELECT down_to FROM moved WHERE series = ?").get(series);
    return row ? (row.down_to as number) : Number.MAX_SAFE_INTEGER;
  }

  /** Rows that are not moved yet, by time. */
  rowsOf(series: number, fromMs: number, toMs: number): Columns | null {
    const id = this.ids.get(series);
    const to = Math.min(toMs, this.leftBefore(series) ?? fromMs);
    if (id === undefined || fromMs >= to) return null;
    const found = this.database
      .prepare("SELECT t, v, q FROM row WHERE series = ? AND t >= ? AND t < ? ORDER BY t")
      .all(id, fromMs, to);
    const rows = columnsFor(found.length);
    for (const [index, { t, v, q }] of found.entries()) {
      rows.tMs[index] = t as number;
      rows.values[index] = (v as number | null) ?? Number.NaN;
      rows.flags[index] = q as number;
    }
    return rows;
  }

  /** Time of the first row from `fromMs` on that is not moved yet; null where there is none. */
  firstFrom(series: number, fromMs: number): number | null {
    return this.end(series, fromMs, "min");
  }

  /** Time of the last row that is not moved yet; null where there is none. */
  last(series: number): number | null {
    return this.end(series, Number.MIN_SAFE_INTEGER, "max");
  }

  private end(series: number, fromMs: number, which: "min" | "max"): number | null {
    const id = this.ids.get(series);
    if (id === undefined) return null;
    const row = this.database
      .prepare(`SELECT ${which}(t) AS t FROM row WHERE series = ? AND t >= ? AND t < ?`)
      .get(id, fromMs, this.leftBefore(series) as number);
    return (row?.t as number | null) ?? null;
  }

  /** Roll-ups of hours or minutes that are not moved yet. */
  rollupsOf(series: number, unitMs: number, fromMs: number, toMs: number): Rollups | null {
    const id = this.ids.get(series);
    const to = Math.min(toMs, this.leftBefore(series) ?? fromMs);
    if (id === undefined || fromMs >= to) return null;
    const found = this.database
      .prepare(
        `SELECT t, n, total, least, most, rank FROM ${unitMs === hourMs ? "hour" : "minute"} WHERE series = ? AND t >= ? AND t < ? ORDER BY t`,
      )
      .all(id, fromMs, to);
    const numbers = (name: string) =>
      Float64Array.from(found, (row) => (row[name] as number | null) ?? Number.NaN);
    return {
      tMs: numbers("t"),
      count: Uint32Array.from(numbers("n")),
      total: numbers("total"),
      least: numbers("least"),
      greatest: numbers("most"),
      rank: Uint8Array.from(numbers("rank")),
    };
  }

  /** About how many days of series are left. */
  daysLeft(): number {
    let days = 0;
    for (const series of this.ids.keys()) {
      const [first, last] = [this.firstFrom(series, Number.MIN_SAFE_INTEGER), this.last(series)];
      if (first !== null && last !== null) days += (beginOf(last, dayMs) - beginOf(first, dayMs)) / dayMs + 1;
    }
    return days;
  }

  close(): void {
    this.database.close();
  }
}

/** Opens the store of the first schema where there is one. */
export function openEarlier(
  path: string,
  file: BlockFile,
  numberOf: (name: string) => number | undefined,
): EarlierStore | null {
  return existsSync(path) ? new EarlierStore(path, file, numberOf) : null;
}

/** Takes the file away once all of it is moved, and the disk has what it was moved into: moves don't wait for it. */
export function leaveEarlier(file: BlockFile, path: string): void {
  file.database.exec("PRAGMA synchronous = FULL");
  file.sql("UPDATE meta SET barrier = barrier + 1").run();
  for (const suffix of ["", "-journal", "-wal", "-shm"]) rmSync(path + suffix, { force: true });
}
