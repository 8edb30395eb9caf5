import { existsSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import type { Stretch } from "../bucket-sums.ts";
import { rowsInPieces, rowsOf } from "../row-batch.ts";
import type { SeriesRow } from "../series-store.ts";
import { BlockFile } from "./block-file.ts";
import { openEarlier } from "./earlier-store.ts";
import { earlierPath, migrations } from "./schema.ts";
import { type RangePiece, StoreReader } from "./store-reader.ts";

/** A look at the store of a folder, at one moment, without a thread and without writing. */
export interface SeriesLook {
  readonly names: readonly string[];
  /** Rows of [fromMs, toMs), by time, in bounded parts. */
  range(series: string, fromMs: number, toMs: number): Iterable<readonly SeriesRow[]>;
  close(): void;
}

/**
 * Looks into the store of a folder, beside a gateway that may run: rows of its last seconds are not in the file yet. Throws
 * when there is none, or one that only a gateway can bring to this version. `atOneMoment` false: each part is read as the
 * file is then, so that a long look does not keep the log of the file from being put into it; and given as few rows at once.
 */
export function readSqliteSeries(
  folder: string,
  { atOneMoment = true }: { readonly atOneMoment?: boolean } = {},
): SeriesLook {
  const path = join(folder, "series.sqlite");
  if (!existsSync(path)) throw new Error(`${folder} holds no series.`);
  const database = new DatabaseSync(path, { readOnly: true });
  const { user_version: version } = database.prepare("PRAGMA user_version").get() as { user_version: number };
  if (version !== migrations.length) {
    database.close();
    throw new Error(`${path} has schema ${version}: start the gateway of this version on it once.`);
  }
  if (atOneMoment) database.exec("BEGIN");
  const file = new BlockFile(database);
  const numbers = new Map(
    file
      .sql("SELECT id, name FROM series ORDER BY name")
      .all()
      .map(({ id, name }) => [name as string, id as number]),
  );
  const earlier = openEarlier(earlierPath(path), file, (name) => numbers.get(name));
  const reader = new StoreReader(file, earlier);
  const piece = (number: number, stretch: Stretch): RangePiece => {
    if (atOneMoment) return reader.rangePiece(number, stretch, null);
    database.exec("BEGIN");
    try {
      return reader.rangePiece(number, stretch, null);
    } finally {
      if (database.isTransaction) database.exec("COMMIT");
    }
  };
  return {
    names: [...numbers.keys()],
    *range(series, fromMs, toMs) {
      const number = numbers.get(series);
      if (number === undefined) return;
      for (let from: number | null = fromMs; from !== null && from < toMs; ) {
        const { rows, nextMs } = piece(number, { fromMs: from, toMs });
        if (!atOneMoment) yield* rowsInPieces(series, rows);
        else if (rows.tMs.length > 0) yield rowsOf(series, rows);
        from = nextMs;
      }
    },
    close() {
      earlier?.close();
      database.close();
    },
  };
}
