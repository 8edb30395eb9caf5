// The reading thread of the series store: each answer is one look at the file, with the head above it.
import { DatabaseSync } from "node:sqlite";
import { parentPort, workerData } from "node:worker_threads";
import type { Columns } from "../columns.ts";
import { BlockFile } from "./block-file.ts";
import { openEarlier } from "./earlier-store.ts";
import { failureOf } from "./failure.ts";
import { Followers } from "./followers.ts";
import type { ReaderRequest, ThreadTold } from "./requests.ts";
import { earlierPath } from "./schema.ts";
import { StoreReader } from "./store-reader.ts";

const port = parentPort;
if (!port) throw new Error("reader-worker.ts runs as a worker only.");
const { path } = workerData as { readonly path: string };
const database = new DatabaseSync(path, { readOnly: true });
database.exec("PRAGMA cache_size = -4000");
const file = new BlockFile(database);
const numberOf = (name: string) =>
  file.sql("SELECT id FROM series WHERE name = ?").get(name)?.id as number | undefined;
const reader = new StoreReader(file, openEarlier(earlierPath(path), file, numberOf));
const followers = new Followers(file);

/** Rows of their own memory: what they are parts of stays here. */
const own = ({ tMs, values, flags }: Columns): Columns => ({
  tMs: tMs.slice(),
  values: values.slice(),
  flags: flags.slice(),
});

function answer(request: ReaderRequest): unknown {
  switch (request.type) {
    case "range": {
      const { rows, nextMs } = reader.rangePiece(request.series, request, request.head);
      return { rows: own(rows), nextMs };
    }
    case "buckets":
      return reader.buckets(request.series, request, request.buckets, request.head);
    case "latest":
      return own(reader.latest(request.series, request.head));
    case "next-batch":
      return followers.next(request.follower);
    case "owed":
      return followers.owed(request.follower, request.limit);
    case "behind":
      return followers.behind(request.follower);
    case "leave-earlier":
      reader.earlier?.close();
      reader.earlier = null;
      return null;
    case "close":
      return null;
  }
}

let toldUnreadable = 0;
function tellUnreadable(): void {
  if (file.unreadable.size === toldUnreadable) return;
  toldUnreadable = file.unreadable.size;
  const told: ThreadTold = { unreadable: toldUnreadable };
  port?.postMessage({ id: -1, told });
}

/** One moment of the file for all that an answer reads of it. */
function atOneMoment(request: ReaderRequest): unknown {
  database.exec("BEGIN");
  try {
    return answer(request);
  } finally {
    // A file that is found damaged can end the transaction by itself.
    if (database.isTransaction) database.exec("COMMIT");
  }
}

port.on("message", (request: ReaderRequest & { readonly id: number }) => {
  try {
    port.postMessage({ id: request.id, value: atOneMoment(request) });
    tellUnreadable();
  } catch (error) {
    port.postMessage({ id: request.id, ...failureOf(error) });
  }
  if (request.type !== "close") return;
  reader.earlier?.close();
  database.close();
  port.close();
});
port.postMessage({ id: 0, value: null });
