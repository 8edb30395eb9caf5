// A thread of the series store: one writes, one reads, so that neither holds up the event loop or the other.
import { parentPort, workerData } from "node:worker_threads";
import { type RowColumns, RowsStore } from "./rows-store.ts";

/** What a thread is asked; each carries the id of its answer. */
export type SeriesRequest =
  | { readonly id: number; readonly type: "write"; readonly columns: RowColumns }
  | {
      readonly id: number;
      readonly type: "range";
      readonly series: string;
      readonly fromMs: number;
      readonly toMs: number;
    }
  | {
      readonly id: number;
      readonly type: "buckets";
      readonly series: string;
      readonly fromMs: number;
      readonly toMs: number;
      readonly buckets: number;
    }
  | { readonly id: number; readonly type: "latest"; readonly series: string }
  | { readonly id: number; readonly type: "names" }
  | { readonly id: number; readonly type: "close" };

const port = parentPort;
if (!port) throw new Error("series-worker.ts runs as a worker only.");
const { path, readOnly } = workerData as { readonly path: string; readonly readOnly: boolean };
const store = new RowsStore(path, readOnly);

function answer(request: SeriesRequest): unknown {
  switch (request.type) {
    case "write":
      return store.write(request.columns);
    case "range":
      return store.range(request.series, request.fromMs, request.toMs);
    case "buckets":
      return store.buckets(request.series, request.fromMs, request.toMs, request.buckets);
    case "latest":
      return store.latest(request.series);
    case "names":
      return store.names();
    case "close":
      store.close();
      return null;
  }
}

port.on("message", (request: SeriesRequest) => {
  try {
    port.postMessage({ id: request.id, value: answer(request) });
  } catch (error) {
    port.postMessage({ id: request.id, error: error instanceof Error ? error.message : String(error) });
  }
  if (request.type === "close") port.close();
});
port.postMessage({ id: 0, value: "ready" });
