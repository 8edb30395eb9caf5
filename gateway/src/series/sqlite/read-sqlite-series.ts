import { existsSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { rowsOf } from "../row-batch.ts";
import type { SeriesRow } from "../series-store.ts";
import { BlockFile } from "./block-file.ts";
import { openEarlier } from "./earlier-store.ts";
import { earlierPath, migrations } from "./schema.ts";
import { StoreReader } from "./store-reader.ts";

/** A look at the store of a folder, at one moment, without a thread and without writing. */
export interface SeriesLook {
  readonly names: readonly string[];
  /** Rows of [fromMs, toMs), by time, in bounded parts. */
  range(series: string, fromMs: number, toMs: number): Iterable<readonly SeriesRow[]>;
  close(): void;
}

/**
 * Looks into the store of a folder, beside a gateway that may run: rows of its last seconds are not in the file yet. Throws
 * when there is none, or one that only a gateway can bring to this version.
 */
export function readSqliteSeries(folder: string): SeriesLook {
  const path = join(folder, "series.sqlite");
  if (!existsSync(path)) throw new Error(`${folder} holds no series.`);
  const database = new DatabaseSync(path, { readOnly: true });
  const { user_version: version } = database.prepare("PRAGMA user_version").get() as { user_version: number };
  if (version !== migrations.length) {
    database.close();
    throw new Error(`${path} has schema ${version}: start the gateway of this version on it once.`);
  }
  database.exec("BEGIN");
  const file = new BlockFile(database);
  const numbers = new Map(
    file
      .sql("SELECT id, name FROM series ORDER BY name")
      .all()
      .map(({ id, name }) => [name as string, id as number]),
  );
  const earlier = openEarlier(earlierPath(path), file, (name) => numbers.get(name));
  const reader = new StoreReader(file, earlier);
  return {
    names: [...numbers.keys()],
    *range(series, fromMs, toMs) {
      const number = numbers.get(series);
      if (number === undefined) return;
      for (let from: number | null = fromMs; from !== null && from < toMs; ) {
        const { rows, nextMs } = reader.rangePiece(number, { fromMs: from, toMs }, null);
        if (rows.tMs.length > 0) yield rowsOf(series, rows);
        from = nextMs;
      }
    },
    close() {
      earlier?.close();
      database.close();
    },
  };
}
