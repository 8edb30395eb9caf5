import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import type { SeriesBuckets, SeriesRow, SeriesStore } from "../series-store.ts";
import { besideBit, type RowColumns } from "./rows-store.ts";
import type { SeriesRequest } from "./series-worker.ts";

type Asked = SeriesRequest extends infer Request
  ? Request extends SeriesRequest
    ? Omit<Request, "id">
    : never
  : never;

interface Thread {
  ask(request: Asked, transfer?: ArrayBuffer[]): Promise<unknown>;
}

async function startThread(path: string, readOnly: boolean): Promise<Thread> {
  const worker = new Worker(new URL("./series-worker.ts", import.meta.url), {
    workerData: { path, readOnly },
    resourceLimits: { maxYoungGenerationSizeMb: 8 },
  });
  const waiting = new Map<number, { resolve: (value: unknown) => void; reject: (error: Error) => void }>();
  let lastId = 0;
  const ready = new Promise((resolve, reject) => waiting.set(0, { resolve, reject }));
  worker.on("message", ({ id, value, error }: { id: number; value?: unknown; error?: string }) => {
    const asked = waiting.get(id);
    waiting.delete(id);
    if (error === undefined) asked?.resolve(value);
    else asked?.reject(new Error(error));
  });
  worker.on("error", (error) => {
    const failure = error instanceof Error ? error : new Error(String(error));
    for (const { reject } of waiting.values()) reject(failure);
    waiting.clear();
  });
  await ready;
  return {
    ask(request, transfer = []) {
      lastId += 1;
      const id = lastId;
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve, reject });
        worker.postMessage({ ...request, id }, transfer);
      });
    },
  };
}

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

/** The embedded store: rows and roll-ups in one SQLite file of the data folder, a thread for writing and one for reading. */
export async function openSqliteSeries({ folder }: { readonly folder: string }): Promise<SeriesStore> {
  mkdirSync(folder, { recursive: true });
  const path = join(folder, "series.sqlite");
  const writer = await startThread(path, false);
  const reader = await startThread(path, true);
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
    async close() {
      await Promise.all([writer.ask({ type: "close" }), reader.ask({ type: "close" })]);
    },
  };
}
