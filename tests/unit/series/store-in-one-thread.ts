import { existsSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openDatabase } from "../../../gateway/src/database/index.ts";
import type { Columns } from "../../../gateway/src/series/columns.ts";
import { SeriesHead } from "../../../gateway/src/series/head.ts";
import { batchOf, besideBit } from "../../../gateway/src/series/row-batch.ts";
import type { SeriesRow } from "../../../gateway/src/series/series-store.ts";
import { BlockFile } from "../../../gateway/src/series/sqlite/block-file.ts";
import { openEarlier } from "../../../gateway/src/series/sqlite/earlier-store.ts";
import { Followers } from "../../../gateway/src/series/sqlite/followers.ts";
import { Moving } from "../../../gateway/src/series/sqlite/moving.ts";
import { Retaining, type Retention } from "../../../gateway/src/series/sqlite/retention.ts";
import { firstSchema, migrations } from "../../../gateway/src/series/sqlite/schema.ts";
import { Sealing } from "../../../gateway/src/series/sqlite/sealing.ts";
import { SeriesNames } from "../../../gateway/src/series/sqlite/series-names.ts";
import { StoreReader } from "../../../gateway/src/series/sqlite/store-reader.ts";
import { StoreWriter } from "../../../gateway/src/series/sqlite/store-writer.ts";

/** Precedence of flags from low to high: ioos_qc, qartod_compare. */
export const precedence = [9, 2, 1, 3, 4];

/** The store's layers without their threads, so that a test says what happens when. */
export function storeInOneThread(folder: string) {
  const path = join(folder, "series.sqlite");
  const database = openDatabase(path, migrations, { givesBack: true });
  const file = new BlockFile(database);
  const known = file
    .sql("SELECT id, name FROM series")
    .all()
    .map(({ id, name }) => [id as number, name as string] as const);
  const names = new SeriesNames(known);
  const beside = join(folder, "series-1.sqlite");
  const earlier = openEarlier(beside, file, (name) => names.numberOf(name));
  const reader = new StoreReader(file, earlier);
  const followers = new Followers(file);
  const sealing = new Sealing(file, followers);
  const writer = new StoreWriter(file, reader, sealing);
  const moving = earlier ? new Moving(file, earlier) : null;
  const { rows: had } = file.sql("SELECT rows FROM meta").get() as { rows: number };
  const head = new SeriesHead(had);
  return {
    database,
    file,
    reader,
    followers,
    sealing,
    moving,
    names,
    add(rows: readonly SeriesRow[]) {
      for (const { series, tMs, value, flag, beside } of rows)
        head.append(names.numberOf(series), tMs, value ?? Number.NaN, beside ? flag | besideBit : flag);
    },
    commit(seq: number | null = null, isDurable = false) {
      const unwritten = names.unwritten();
      head.committed(writer.commit({ names: unwritten, head: head.view(), seq, isDurable }));
      names.written(unwritten);
    },
    write(rows: readonly SeriesRow[]) {
      const batch = batchOf(rows, (name) => names.numberOf(name));
      const unwritten = names.unwritten();
      const written = writer.write(unwritten, batch);
      names.written(unwritten);
      return written;
    },
    stage(job: string, rows: readonly SeriesRow[]): void {
      writer.stage(
        job,
        names.unwritten(),
        batchOf(rows, (name) => names.numberOf(name)),
      );
    },
    staged: () => writer.staged(),
    publish: (job: string) => writer.publish(job),
    retaining: (retention: Retention) => new Retaining(file, retention, () => sealing.lastCameMs),
    sealAll() {
      while (sealing.step());
    },
    rows(series: string, fromMs = -1e15, toMs = 1e15): SeriesRow[] {
      const found: SeriesRow[] = [];
      for (let from: number | null = fromMs; from !== null; ) {
        const piece: { rows: Columns; nextMs: number | null } = reader.rangePiece(
          names.numberOf(series),
          { fromMs: from, toMs },
          head.view(),
        );
        for (const [index, tMs] of piece.rows.tMs.entries()) {
          const value = piece.rows.values[index] as number;
          const flag = piece.rows.flags[index] as SeriesRow["flag"];
          found.push({ series, tMs, value: Number.isNaN(value) ? null : value, flag });
        }
        from = piece.nextMs;
      }
      return found;
    },
    buckets: (series: string, fromMs: number, toMs: number, count: number) =>
      reader.buckets(names.numberOf(series), { fromMs, toMs }, count, head.view()),
    latestMs: (series: string) => reader.latest(names.numberOf(series), head.view()).tMs[0] ?? null,
    count: (table: string) =>
      (database.prepare(`SELECT count(*) AS n FROM ${table}`).get() as { n: number }).n,
    close() {
      reader.earlier?.close();
      database.close();
    },
  };
}

/** Writes a store of the first schema, with its roll-ups, as it was left. */
export function writeEarlier(folder: string, rows: readonly SeriesRow[]): void {
  const path = join(folder, "series-1.sqlite");
  if (existsSync(path)) throw new Error("there is one already");
  const database = new DatabaseSync(path);
  database.exec(firstSchema);
  database.exec("PRAGMA user_version = 1");
  // In one transaction: a row for itself waits for the disk each time.
  database.exec("BEGIN");
  const ids = new Map<string, number>();
  for (const { series, tMs, value, flag } of rows) {
    const id = ids.get(series) ?? ids.size + 1;
    if (!ids.has(series)) database.prepare("INSERT INTO series VALUES (?, ?)").run(id, series);
    ids.set(series, id);
    database.prepare("INSERT OR REPLACE INTO row VALUES (?, ?, ?, ?)").run(id, tMs, value, flag);
  }
  for (const [table, spanMs] of [
    ["minute", 60_000],
    ["hour", 3_600_000],
  ] as const)
    database.exec(
      `INSERT INTO ${table} SELECT series, t - t % ${spanMs}, count(v), total(v), min(v), max(v), max(CASE q WHEN 9 THEN 0 WHEN 2 THEN 1 WHEN 1 THEN 2 WHEN 3 THEN 3 ELSE 4 END) FROM row GROUP BY 1, 2`,
    );
  database.exec("COMMIT");
  database.close();
}
