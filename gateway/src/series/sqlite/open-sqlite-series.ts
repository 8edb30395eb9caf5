import { mkdirSync } from "node:fs";
import { join } from "node:path";
import type { Worker } from "node:worker_threads";
import { openOrRenew, type RenewSettings } from "../../database/index.ts";
import type { SeriesBuckets, SeriesRow, SeriesStore } from "../series-store.ts";
import { besideBit, migrations, type RowColumns } from "./rows-store.ts";
import { startStoreThread } from "./store-thread.ts";

function columnsOf(batch: readonly SeriesRow[]): RowColumns {
  const places = new Map<string, number>();
  const series = new Uint32Array(batch.length);
  const tMs = new Float64Array(batch.length);
  const values = new Float64Array(batch.length);
  const flags = new Uint8Array(batch.length);
  for (const [place, row] of batch.entries()) {
    let name = places.get(row.series);
    if (name === undefined) {
      name = places.size;
      places.set(row.series, name);
    }
    series[place] = name;
    tMs[place] = row.tMs;
    values[place] = row.value ?? Number.NaN;
    flags[place] = row.beside ? row.flag | besideBit : row.flag;
  }
  return { names: [...places.keys()], series, tMs, values, flags };
}

/** The embedded store of a data folder. */
export interface SqliteSeries extends SeriesStore {
  /** What is wrong with its threads; null while both are there. */
  trouble(): string | null;
}

/** What the store needs. */
export interface SqliteSeriesOptions {
  readonly folder: string;
  /** Names a damaged file that is set aside, epoch ms. */
  readonly nowMs?: number;
  /** Told what was wrong with the file, before a fresh one is begun. */
  readonly beforeRenewal?: RenewSettings["beforeRenewal"];
  /** A thread that ended is started again after so long; 1 s. */
  readonly againMs?: number;
  /** Told of each thread that starts. */
  readonly onThread?: (worker: Worker) => void;
}

/**
 * The embedded store: rows and roll-ups in one SQLite file of the data folder, a thread for writing and one for reading.
 * While a thread is away what is asked of it rejects; it is started again. Rejects when the file can't be opened.
 */
export async function openSqliteSeries({
  folder,
  nowMs = 0,
  beforeRenewal = () => {},
  againMs = 1000,
  onThread = () => {},
}: SqliteSeriesOptions): Promise<SqliteSeries> {
  mkdirSync(folder, { recursive: true });
  const opened = openOrRenew(join(folder, "series.sqlite"), migrations, {
    nowMs,
    // Years of rows take too long to be looked at; without the names none of them is found.
    isSound: (database) => database.prepare("SELECT count(name) AS n FROM series").get() !== undefined,
    beforeRenewal,
  });
  const path = opened.location() as string;
  opened.close();
  const writer = await startStoreThread({ path, readOnly: false, againMs, onThread });
  const reader = await startStoreThread({ path, readOnly: true, againMs, onThread }).catch(async (error) => {
    await writer.end();
    throw error;
  });
  return {
    async write(batch) {
      const columns = columnsOf(batch);
      const transfer = [
        columns.series.buffer,
        columns.tMs.buffer,
        columns.values.buffer,
        columns.flags.buffer,
      ] as ArrayBuffer[];
      return (await writer.ask({ type: "write", columns }, transfer)) as {
        written: number;
        replaced: number;
      };
    },
    async *range(series, fromMs, toMs) {
      for (let from = fromMs; ; ) {
        const rows = (await reader.ask({ type: "range", series, fromMs: from, toMs })) as SeriesRow[];
        if (rows.length === 0) return;
        yield rows;
        from = (rows.at(-1) as SeriesRow).tMs + 1;
      }
    },
    async buckets(series, fromMs, toMs, buckets) {
      return (await reader.ask({ type: "buckets", series, fromMs, toMs, buckets })) as SeriesBuckets;
    },
    async latest(series) {
      return (await reader.ask({ type: "latest", series })) as SeriesRow | null;
    },
    async names() {
      return (await reader.ask({ type: "names" })) as string[];
    },
    trouble: () => writer.trouble() ?? reader.trouble(),
    async close() {
      // The reader first: the last one that may write puts the log into the file, and the file alone is then a whole copy.
      for (const thread of [reader, writer]) {
        await thread.ask({ type: "close" }).catch(() => {});
        await thread.end();
      }
    },
  };
}
