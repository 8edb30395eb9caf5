import { existsSync, rmSync, statSync, writeFileSync } from "node:fs";
import { DatabaseSync, type SQLInputValue } from "node:sqlite";
import { asideOf, isDamage, moveFile } from "../../database/index.ts";
import type { Columns } from "../columns.ts";
import { columnsFor } from "../columns.ts";
import { beginOf, dayMs, hourMs, type Rollups } from "../rollups.ts";
import type { BlockFile } from "./block-file.ts";

type Row = Record<string, unknown>;

/** Tables of roll-ups with their units. */
const rolled = { hour: hourMs, minute: 60_000 } as const;

/**
 * A store of the first schema beside the new one: it is read, and moved day by day; it is never written. Of a damaged one what
 * can be read is read, from both sides of what can't.
 */
export class EarlierStore {
  private readonly database: DatabaseSync;
  private readonly file: BlockFile;
  private readonly path: string;
  /** Its numbers of series, by those of the new store. */
  private readonly ids = new Map<number, number>();

  /** `numberOf` gives the new store's number of a name. */
  constructor(path: string, file: BlockFile, numberOf: (name: string) => number | undefined) {
    this.file = file;
    this.path = path;
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

  /** Some of it could not be read, now or at an earlier start. */
  get isDamaged(): boolean {
    return existsSync(markOf(this.path));
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

  /** Notes that something can't be read; throws what is no damage. */
  private note(error: unknown, what: string): void {
    if (!isDamage(error)) throw error;
    this.file.unreadable.add(`earlier ${what}`);
    noteDamage(this.path);
  }

  /** Rows of a table by time, up to the first that can't be read, and those after the last such one. */
  private readable(columns: string, [table, ...values]: readonly [string, ...SQLInputValue[]]): Row[] {
    const asked = `SELECT ${columns} FROM ${table} WHERE series = ? AND t >= ? AND t < ? ORDER BY t`;
    const found: Row[] = [];
    try {
      for (const row of this.database.prepare(asked).iterate(...values)) found.push(row);
      return found;
    } catch (error) {
      this.note(error, `${table} ${values[0]} ${beginOf(values[1] as number, dayMs)}`);
    }
    const last = (found.at(-1)?.t as number | undefined) ?? Number.NEGATIVE_INFINITY;
    const behind: Row[] = [];
    try {
      for (const row of this.database.prepare(`${asked} DESC`).iterate(...values)) {
        if ((row.t as number) <= last) break;
        behind.push(row);
      }
    } catch (error) {
      if (!isDamage(error)) throw error;
    }
    return [...found, ...behind.reverse()];
  }

  /** Rows that are not moved yet, by time. */
  rowsOf(series: number, fromMs: number, toMs: number): Columns | null {
    const id = this.ids.get(series);
    const to = Math.min(toMs, this.leftBefore(series) ?? fromMs);
    if (id === undefined || fromMs >= to) return null;
    const found = this.readable("t, v, q", ["row", id, fromMs, to]);
    const rows = columnsFor(found.length);
    for (const [index, { t, v, q }] of found.entries()) {
      rows.tMs[index] = t as number;
      rows.values[index] = (v as number | null) ?? Number.NaN;
      rows.flags[index] = q as number;
    }
    return rows;
  }

  /** Time of the first row from `fromMs` on that is not moved yet, or before it where that can't be read; null where there is none. */
  firstFrom(series: number, fromMs: number): number | null {
    return this.end(series, fromMs, "min");
  }

  /** Time of the last row that is not moved yet, or after it where that can't be read; null where there is none. */
  last(series: number): number | null {
    return this.end(series, Number.MIN_SAFE_INTEGER, "max");
  }

  private end(series: number, fromMs: number, which: "min" | "max"): number | null {
    const id = this.ids.get(series);
    if (id === undefined) return null;
    const toMs = this.leftBefore(series) as number;
    try {
      return this.endIn("row", which, [id, fromMs, toMs]);
    } catch (error) {
      this.note(error, `row ${id}, ${which}`);
    }
    // Within what is known of it otherwise: a day that can't be read is come upon, and left, like one that can.
    const [first, last] = [this.known(id, "min"), this.known(id, "max")];
    if (first === null || last === null) return null;
    const [from, to] = [Math.max(fromMs, first), Math.min(toMs - 1, last)];
    return from > to ? null : which === "min" ? from : to;
  }

  private endIn(table: string, which: "min" | "max", values: readonly number[]): number | null {
    const row = this.database
      .prepare(`SELECT ${which}(t) AS t FROM ${table} WHERE series = ? AND t >= ? AND t < ?`)
      .get(...values);
    return (row?.t as number | null) ?? null;
  }

  /** The first or last time of a series by its rows, or else by its roll-ups; null where none of them says it. */
  private known(id: number, which: "min" | "max"): number | null {
    for (const [table, unitMs] of [["row", 1] as const, ...Object.entries(rolled)])
      try {
        const at = this.endIn(table, which, [id, Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER]);
        if (at !== null) return which === "min" ? at : at + unitMs - 1;
      } catch (error) {
        this.note(error, `${table} ${id}, ${which}`);
      }
    return null;
  }

  /** Roll-ups of hours or minutes that are not moved yet. */
  rollupsOf(series: number, unitMs: number, fromMs: number, toMs: number): Rollups | null {
    const id = this.ids.get(series);
    const to = Math.min(toMs, this.leftBefore(series) ?? fromMs);
    if (id === undefined || fromMs >= to) return null;
    const table = unitMs === hourMs ? "hour" : "minute";
    const found = this.readable("t, n, total, least, most, rank", [table, id, fromMs, to]);
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

const markOf = (path: string) => `${path}.damaged`;

/** Notes for whoever takes the file away that it holds what could not be read. */
function noteDamage(path: string): void {
  if (!existsSync(markOf(path))) writeFileSync(markOf(path), "could not be read whole\n", { mode: 0o600 });
}

/**
 * Takes the file away once all of it is moved, and the disk has what it was moved into: moves don't wait for it. A damaged one is
 * set aside.
 */
export function leaveEarlier(file: BlockFile, path: string): void {
  file.database.exec("PRAGMA synchronous = FULL");
  file.sql("UPDATE meta SET barrier = barrier + 1").run();
  if (existsSync(markOf(path))) {
    if (existsSync(path)) moveFile(path, asideOf(path, "damaged", statSync(path).mtimeMs));
    rmSync(markOf(path));
    return;
  }
  for (const suffix of ["", "-journal", "-wal", "-shm"]) rmSync(path + suffix, { force: true });
}

/** Sets a file aside of which not even the names can be read: gives where it is then, and null where all is well. */
export function setUnreadableAside(path: string): string | null {
  if (!existsSync(path)) return null;
  try {
    EarlierStore.namesIn(path);
    return null;
  } catch {
    const aside = asideOf(path, "damaged", statSync(path).mtimeMs);
    moveFile(path, aside);
    return aside;
  }
}
