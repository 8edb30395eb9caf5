import { DatabaseSync, type StatementSync } from "node:sqlite";
import { inTransaction, type Migration, openDatabase } from "../../database/index.ts";
import type { Flag } from "../../readings/index.ts";
import type { SeriesBuckets, SeriesRow } from "../series-store.ts";
import { flagOfRank, rankOf } from "./flag-rank.ts";

const minuteMs = 60_000;
const hourMs = 3_600_000;
const rangeAtOnce = 5000;
/** So far a row looks for a free millisecond. */
const maxBesideMs = 1000;
/** Set in a row's flag: it goes beside what stands at its time. */
export const besideBit = 0x80;

const rollupColumns =
  "(series INTEGER NOT NULL, t INTEGER NOT NULL, n INTEGER NOT NULL, total REAL NOT NULL, least REAL, most REAL, rank INTEGER NOT NULL, PRIMARY KEY (series, t)) WITHOUT ROWID";
/** Schemas of the file. */
export const migrations: readonly Migration[] = [
  `CREATE TABLE series (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
  CREATE TABLE row (series INTEGER NOT NULL, t INTEGER NOT NULL, v REAL, q INTEGER NOT NULL, PRIMARY KEY (series, t)) WITHOUT ROWID;
  CREATE TABLE minute ${rollupColumns};
  CREATE TABLE hour ${rollupColumns};`,
];

/** A batch of rows as columns; `series` are places in `names`. */
export interface RowColumns {
  readonly names: readonly string[];
  readonly series: Uint32Array;
  readonly tMs: Float64Array;
  /** NaN stands for a missing value. */
  readonly values: Float64Array;
  /** The flag, and `besideBit`. */
  readonly flags: Uint8Array;
}

interface Rollup {
  n: number;
  total: number;
  least: number;
  most: number;
  rank: number;
}

/** Rows and roll-ups of every series in one SQLite file. Synchronous: it lives in its own thread. */
export class RowsStore {
  private readonly database: DatabaseSync;
  private readonly ids = new Map<string, number>();
  private readonly statements: Readonly<
    Record<
      "insert" | "rowAt" | "update" | "rollMinute" | "rollHour" | "addSeries" | "minuteOf" | "hourOf",
      StatementSync
    >
  >;

  constructor(path: string, readOnly = false) {
    this.database = readOnly
      ? new DatabaseSync(path, { readOnly })
      : openDatabase(path, migrations, { pragmas: ["wal_autocheckpoint = 8000", "cache_size = -32000"] });
    for (const row of this.database.prepare("SELECT id, name FROM series").all())
      this.ids.set(row.name as string, row.id as number);
    const rollup = (table: string) =>
      this.database.prepare(
        `INSERT INTO ${table} (series, t, n, total, least, most, rank) VALUES (?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (series, t) DO UPDATE SET n = n + excluded.n, total = total + excluded.total,
           least = min(coalesce(least, excluded.least), coalesce(excluded.least, least)),
           most = max(coalesce(most, excluded.most), coalesce(excluded.most, most)), rank = max(rank, excluded.rank)`,
      );
    this.statements = {
      insert: this.database.prepare("INSERT OR IGNORE INTO row (series, t, v, q) VALUES (?, ?, ?, ?)"),
      rowAt: this.database.prepare("SELECT v, q FROM row WHERE series = ? AND t = ?"),
      update: this.database.prepare(
        "UPDATE row SET v = ?, q = ? WHERE series = ? AND t = ? AND (v IS NOT ? OR q <> ?)",
      ),
      rollMinute: rollup("minute"),
      rollHour: rollup("hour"),
      addSeries: this.database.prepare("INSERT INTO series (name) VALUES (?)"),
      minuteOf: this.again("minute", "row", minuteMs),
      hourOf: this.again("hour", "row", hourMs),
    };
  }

  // Recomputes one roll-up from its rows: after a row was replaced, adding up is no longer right.
  private again(table: string, from: string, spanMs: number): StatementSync {
    return this.database.prepare(
      `INSERT OR REPLACE INTO ${table} (series, t, n, total, least, most, rank)
       SELECT series, :t, count(v), total(v), min(v), max(v), max(CASE q WHEN 9 THEN 0 WHEN 2 THEN 1 WHEN 1 THEN 2 WHEN 3 THEN 3 ELSE 4 END)
       FROM ${from} WHERE series = :series AND t >= :t AND t < :t + ${spanMs} GROUP BY series`,
    );
  }

  private idOf(name: string): number {
    const known = this.ids.get(name);
    if (known !== undefined) return known;
    const id = Number(this.statements.addSeries.run(name).lastInsertRowid);
    this.ids.set(name, id);
    return id;
  }

  /** Writes a batch in one transaction, roll-ups with it. A row that stands already is replaced, and counted. */
  write(columns: RowColumns): { readonly written: number; readonly replaced: number } {
    const before = new Set(this.ids.keys());
    try {
      const replaced = inTransaction(this.database, () => this.writeRows(columns));
      return { written: columns.tMs.length, replaced };
    } catch (error) {
      for (const name of this.ids.keys()) if (!before.has(name)) this.ids.delete(name);
      throw error;
    }
  }

  /** Gives how many rows were replaced. */
  private writeRows(columns: RowColumns): number {
    const minutes = new Map<string, Rollup>();
    const hours = new Map<string, Rollup>();
    const stale = new Set<string>();
    let replaced = 0;
    const ids = columns.names.map((name) => this.idOf(name));
    for (let place = 0; place < columns.tMs.length; place += 1) {
      const id = ids[columns.series[place] as number] as number;
      const value = columns.values[place] as number;
      const bits = columns.flags[place] as number;
      const flag = bits & ~besideBit;
      const stored = Number.isNaN(value) ? null : value;
      const asked = columns.tMs[place] as number;
      const t = bits & besideBit ? this.freeTime(id, asked, stored, flag) : asked;
      if (this.statements.insert.run(id, t, stored, flag).changes === 1) {
        add(minutes, `${id} ${t - mod(t, minuteMs)}`, stored, flag);
        add(hours, `${id} ${t - mod(t, hourMs)}`, stored, flag);
      } else if (this.statements.update.run(stored, flag, id, t, stored, flag).changes === 1) {
        replaced += 1;
        stale.add(`${id} ${t}`);
      }
    }
    this.putRollups(this.statements.rollMinute, minutes);
    this.putRollups(this.statements.rollHour, hours);
    for (const key of stale) {
      const [id, t] = key.split(" ").map(Number) as [number, number];
      this.statements.minuteOf.run({ series: id, t: t - mod(t, minuteMs) });
      this.statements.hourOf.run({ series: id, t: t - mod(t, hourMs) });
    }
    return replaced;
  }

  /** The first millisecond from `t` on where nothing else stands; one where the same stands is its own, written before. */
  private freeTime(id: number, t: number, value: number | null, flag: number): number {
    for (let at = t; at < t + maxBesideMs; at += 1) {
      const row = this.statements.rowAt.get(id, at);
      if (!row || (row.v === value && row.q === flag)) return at;
    }
    return t;
  }

  private putRollups(statement: StatementSync, rollups: ReadonlyMap<string, Rollup>): void {
    for (const [key, { n, total, least, most, rank }] of rollups) {
      const [id, t] = key.split(" ").map(Number) as [number, number];
      statement.run(id, t, n, total, n > 0 ? least : null, n > 0 ? most : null, rank);
    }
  }

  /** Up to 5,000 rows of [fromMs, toMs), by time. */
  range(series: string, fromMs: number, toMs: number): SeriesRow[] {
    const id = this.findId(series);
    if (id === null) return [];
    return this.database
      .prepare("SELECT t, v, q FROM row WHERE series = ? AND t >= ? AND t < ? ORDER BY t LIMIT ?")
      .all(id, fromMs, toMs, rangeAtOnce)
      .map((row) => ({ series, tMs: row.t as number, value: row.v as number | null, flag: row.q as Flag }));
  }

  latest(series: string): SeriesRow | null {
    const id = this.findId(series);
    const row =
      id === null
        ? undefined
        : this.database.prepare("SELECT t, v, q FROM row WHERE series = ? ORDER BY t DESC LIMIT 1").get(id);
    return row ? { series, tMs: row.t as number, value: row.v as number | null, flag: row.q as Flag } : null;
  }

  names(): string[] {
    return this.database
      .prepare("SELECT name FROM series ORDER BY name")
      .all()
      .map((row) => row.name as string);
  }

  private findId(name: string): number | null {
    const known = this.ids.get(name);
    if (known !== undefined) return known;
    const row = this.database.prepare("SELECT id FROM series WHERE name = ?").get(name);
    if (!row) return null;
    this.ids.set(name, row.id as number);
    return row.id as number;
  }

  /** Buckets over [fromMs, toMs), aligned to whole bucket lengths; from roll-ups where they are fine enough. */
  buckets(series: string, fromMs: number, toMs: number, count: number): SeriesBuckets {
    const exact = Math.max(1, Math.ceil((toMs - fromMs) / count));
    const bucketMs =
      exact >= hourMs
        ? Math.ceil(exact / hourMs) * hourMs
        : exact >= minuteMs
          ? Math.ceil(exact / minuteMs) * minuteMs
          : exact;
    const first = fromMs - mod(fromMs, bucketMs);
    const size = Math.max(0, Math.ceil((toMs - first) / bucketMs));
    const t = Array.from({ length: size }, (_, place) => first + place * bucketMs);
    const min: (number | null)[] = new Array(size).fill(null);
    const mean: (number | null)[] = new Array(size).fill(null);
    const max: (number | null)[] = new Array(size).fill(null);
    const n: number[] = new Array(size).fill(0);
    const flag: Flag[] = new Array(size).fill(9);
    const id = this.findId(series);
    if (id !== null) {
      for (const row of this.grouped(id, first, bucketMs, fromMs, toMs)) {
        const place = row.bucket as number;
        const values = row.n as number;
        min[place] = row.least as number | null;
        max[place] = row.most as number | null;
        mean[place] = values > 0 ? (row.total as number) / values : null;
        n[place] = values;
        flag[place] = flagOfRank(row.rank as number);
      }
    }
    return { bucketMs, t, min, mean, max, count: n, flag };
  }

  private grouped(
    id: number,
    first: number,
    bucketMs: number,
    fromMs: number,
    toMs: number,
  ): Record<string, unknown>[] {
    const rolled = bucketMs >= hourMs ? "hour" : bucketMs >= minuteMs ? "minute" : null;
    const source = rolled
      ? `SELECT t, n, total, least, most, rank FROM ${rolled} WHERE series = :id AND t >= :from AND t < :to`
      : "SELECT t, v IS NOT NULL AS n, coalesce(v, 0) AS total, v AS least, v AS most, CASE q WHEN 9 THEN 0 WHEN 2 THEN 1 WHEN 1 THEN 2 WHEN 3 THEN 3 ELSE 4 END AS rank FROM row WHERE series = :id AND t >= :from AND t < :to";
    // Roll-ups are taken whole: the first bucket begins at its aligned edge.
    return this.database
      .prepare(
        `SELECT CAST((t - :first) / :span AS INTEGER) AS bucket, sum(n) AS n, sum(total) AS total, min(least) AS least, max(most) AS most, max(rank) AS rank FROM (${source}) GROUP BY bucket`,
      )
      .all({ id, first, span: bucketMs, from: rolled ? first : fromMs, to: toMs });
  }

  close(): void {
    this.database.close();
  }
}

function mod(value: number, by: number): number {
  return ((value % by) + by) % by;
}

function add(rollups: Map<string, Rollup>, key: string, value: number | null, flag: number): void {
  const known = rollups.get(key);
  const least = value ?? Number.POSITIVE_INFINITY;
  const most = value ?? Number.NEGATIVE_INFINITY;
  if (!known) {
    rollups.set(key, {
      n: value === null ? 0 : 1,
      total: value ?? 0,
      least,
      most,
      rank: rankOf(flag as Flag),
    });
    return;
  }
  known.n += value === null ? 0 : 1;
  known.total += value ?? 0;
  known.least = Math.min(known.least, least);
  known.most = Math.max(known.most, most);
  known.rank = Math.max(known.rank, rankOf(flag as Flag));
}
