import { inTransaction } from "../../database/index.ts";
import type { Behind, OwedRange, SeriesBatch } from "../batch-log.ts";
import { noRows, within } from "../columns.ts";
import { beginOf, dayMs } from "../rollups.ts";
import type { BlockFile, Sealed } from "./block-file.ts";

/** A stretch within one day of a series. */
interface OwedDay {
  readonly series: number;
  readonly fromMs: number;
  readonly toMs: number;
}

/** Cursors of those who send rows on, and what they are owed, in the store's file. */
export class Followers {
  private readonly file: BlockFile;
  /** What each follower that pays is owed anew meanwhile, by series and day: what it has read may be older. */
  private readonly anew = new Map<string, Map<string, OwedDay>>();

  constructor(file: BlockFile) {
    this.file = file;
  }

  follow(follower: string): void {
    this.file
      .sql(
        "INSERT OR IGNORE INTO follower (name, cursor) VALUES (?, coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'part'), 0))",
      )
      .run(follower);
    // A log that was begun anew counts from the start again.
    this.file
      .sql(
        "UPDATE follower SET cursor = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'part'), 0) WHERE name = ? AND cursor > coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'part'), 0)",
      )
      .run(follower);
  }

  /** Does not wait for the disk: what a power loss takes of a cursor is sent again, and is the same. */
  sent(follower: string, id: number): void {
    this.file.database.exec("PRAGMA synchronous = NORMAL");
    this.file.sql("UPDATE follower SET cursor = max(cursor, ?) WHERE name = ?").run(id, follower);
  }

  next(follower: string): SeriesBatch | null {
    const row = this.file
      .sql(
        "SELECT id, family FROM part WHERE id > coalesce((SELECT cursor FROM follower WHERE name = ?), 9e15) ORDER BY id LIMIT 1",
      )
      .get(follower);
    if (!row) return null;
    const id = row.id as number;
    const part = this.file.partAt(id);
    // Its sealed rows are owed: here a newer batch, which is gone already, may have said something else of them.
    const { sealedTo, sealedPart } = this.file.sealedOf(row.family as number);
    const fromMs = id <= sealedPart ? sealedTo : Number.NEGATIVE_INFINITY;
    const found = [...part.series()].flatMap((series) => {
      const rows = within(part.rowsOf(series) ?? noRows, fromMs, Number.POSITIVE_INFINITY);
      return rows.tMs.length > 0 ? [{ series, rows }] : [];
    });
    const count = found.reduce((sum, { rows }) => sum + rows.tMs.length, 0);
    const batch = {
      id,
      names: found.map(({ series }) => this.nameOf(series)),
      series: new Uint32Array(count),
      tMs: new Float64Array(count),
      values: new Float64Array(count),
      flags: new Uint8Array(count),
    };
    let at = 0;
    for (const [index, { rows }] of found.entries()) {
      batch.series.fill(index, at, at + rows.tMs.length);
      for (const name of ["tMs", "values", "flags"] as const) batch[name].set(rows[name], at);
      at += rows.tMs.length;
    }
    return batch;
  }

  private nameOf(series: number): string {
    return this.file.sql("SELECT name FROM series WHERE id = ?").get(series)?.name as string;
  }

  owed(follower: string, limit: number): OwedRange[] {
    return this.file
      .sql(
        "SELECT s.name, o.from_ms, o.to_ms FROM owed o JOIN series s ON s.id = o.series WHERE o.follower = ? ORDER BY o.day, o.series LIMIT ?",
      )
      .all(follower, limit)
      .map(({ name, from_ms, to_ms }) => ({
        series: name as string,
        fromMs: from_ms as number,
        toMs: to_ms as number,
      }));
  }

  owe(follower: string, ranges: readonly OwedRange[]): void {
    this.file.database.exec("PRAGMA synchronous = FULL");
    inTransaction(this.file.database, () => {
      for (const { series, fromMs, toMs } of ranges) {
        const id = this.file.sql("SELECT id FROM series WHERE name = ?").get(series)?.id;
        if (id !== undefined) this.oweRange(follower, id as number, fromMs, toMs);
      }
    });
  }

  private oweRange(follower: string, series: number, fromMs: number, toMs: number): void {
    for (let day = beginOf(fromMs, dayMs); day < toMs; day += dayMs) {
      const owed = { series, fromMs: Math.max(fromMs, day), toMs: Math.min(toMs, day + dayMs) };
      this.note(follower, owed, day);
      this.file
        .sql(
          `INSERT INTO owed (follower, series, day, from_ms, to_ms) VALUES (?, ?, ?, ?, ?)
           ON CONFLICT DO UPDATE SET from_ms = min(from_ms, excluded.from_ms), to_ms = max(to_ms, excluded.to_ms)`,
        )
        .run(follower, series, day, owed.fromMs, owed.toMs);
    }
  }

  private note(follower: string, { series, fromMs, toMs }: OwedDay, day: number): void {
    const anew = this.anew.get(follower);
    const key = `${series} ${day}`;
    const known = anew?.get(key);
    anew?.set(key, {
      series,
      fromMs: Math.min(fromMs, known?.fromMs ?? fromMs),
      toMs: Math.max(toMs, known?.toMs ?? toMs),
    });
  }

  /** What is owed from here on stays owed, though `paid` is told of it. */
  paying(follower: string): void {
    this.anew.set(follower, new Map());
  }

  /** Does not wait for the disk, as `sent`. */
  paid(follower: string, { series, fromMs, toMs }: OwedRange): void {
    const id = this.file.sql("SELECT id FROM series WHERE name = ?").get(series)?.id as number | undefined;
    if (id === undefined) return;
    const sql = (text: string) => this.file.sql(text);
    this.file.database.exec("PRAGMA synchronous = NORMAL");
    inTransaction(this.file.database, () => {
      const whole = "follower = ? AND series = ?";
      sql(`DELETE FROM owed WHERE ${whole} AND from_ms >= ? AND to_ms <= ?`).run(follower, id, fromMs, toMs);
      sql(`UPDATE owed SET to_ms = ? WHERE ${whole} AND from_ms < ? AND to_ms > ? AND to_ms <= ?`).run(
        fromMs,
        follower,
        id,
        fromMs,
        fromMs,
        toMs,
      );
      sql(`UPDATE owed SET from_ms = ? WHERE ${whole} AND from_ms >= ? AND from_ms < ? AND to_ms > ?`).run(
        toMs,
        follower,
        id,
        fromMs,
        toMs,
        toMs,
      );
      for (const one of this.anew.get(follower)?.values() ?? []) {
        const [from, to] = [Math.max(one.fromMs, fromMs), Math.min(one.toMs, toMs)];
        if (one.series === id && from < to) this.oweRange(follower, id, from, to);
      }
    });
  }

  behind(follower: string): Behind {
    const after = "id > (SELECT cursor FROM follower WHERE name = ?)";
    const parts = this.file
      .sql(`SELECT count(*) AS n, min(first_ms) AS since FROM part WHERE ${after}`)
      .get(follower);
    const owed = this.file
      .sql("SELECT count(*) AS n, min(from_ms) AS since FROM owed WHERE follower = ?")
      .get(follower);
    const times = [parts?.since, owed?.since].filter((ms): ms is number => typeof ms === "number");
    return {
      batches: parts?.n as number,
      owed: owed?.n as number,
      sinceMs: times.length > 0 ? Math.min(...times) : null,
    };
  }

  /**
   * Rows of a family that were sealed although a follower did not have them are owed, within the caller's transaction.
   * `before`: what was sealed, and so owed, already.
   */
  oweSealed(family: number, sealedTo: number, before: Sealed): void {
    for (const { name, cursor } of this.file.sql("SELECT name, cursor FROM follower").all()) {
      const parts = this.file.sql("SELECT id FROM part WHERE family = ? AND first_ms < ? AND id > ?");
      for (const { id } of parts.all(family, sealedTo, cursor as number)) {
        const part = this.file.partAt(id as number);
        const fromMs = (id as number) <= before.sealedPart ? before.sealedTo : Number.NEGATIVE_INFINITY;
        for (const series of part.series()) {
          const { tMs } = within(part.rowsOf(series) ?? noRows, fromMs, sealedTo);
          if (tMs.length > 0)
            this.oweRange(name as string, series, tMs[0] as number, (tMs.at(-1) as number) + 1);
        }
      }
    }
  }
}
