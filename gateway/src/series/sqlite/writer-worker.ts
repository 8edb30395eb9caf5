// The writing thread of the series store: batches when they are asked for; sealing and moving between them.
import { existsSync } from "node:fs";
import { parentPort, workerData } from "node:worker_threads";
import { type GuestRequest, Guests, inTransaction, openDatabase } from "../../database/index.ts";
import { batchOfNumbered } from "../named-rows.ts";
import { BlockFile } from "./block-file.ts";
import { EarlierStore, leaveEarlier, openEarlier } from "./earlier-store.ts";
import { failureOf } from "./failure.ts";
import { Followers } from "./followers.ts";
import { Moving } from "./moving.ts";
import type { ThreadTold, WriterReady, WriterRequest } from "./requests.ts";
import { Retaining, type Retention } from "./retention.ts";
import { earlierPath, migrations } from "./schema.ts";
import { Sealing } from "./sealing.ts";
import { mendMarked } from "./soundness.ts";
import { StoreReader } from "./store-reader.ts";
import { type CommitRequest, type NumberedNames, StoreWriter } from "./store-writer.ts";

const port = parentPort;
if (!port) throw new Error("writer-worker.ts runs as a worker only.");
const { path, retention } = workerData as { readonly path: string; readonly retention: Retention };
const beside = earlierPath(path);
/** What failed by itself is tried again after so long. */
const againMs = 5000;
/**
 * So often one day that is too old may go: more than one a day comes, and a clock that is years ahead takes little before it
 * is noticed.
 */
const retainEveryMs = 6 * 3_600_000;
/** So many days of series are moved before it is told how far it is. */
const toldEvery = 20;

const mended = mendMarked(path);
const database = openDatabase(path, migrations, {
  givesBack: true,
  pragmas: ["wal_autocheckpoint = 4000", "cache_size = -6000"],
});
const file = new BlockFile(database);

function namesOfFile(): NumberedNames {
  return file
    .sql("SELECT id, name FROM series ORDER BY id")
    .all()
    .map(({ id, name }) => [id as number, name as string] as const);
}

/** Names of a store of the first schema get their numbers here too. */
function takeEarlierNames(): void {
  if (!existsSync(beside)) return;
  inTransaction(database, () => {
    for (const name of EarlierStore.namesIn(beside))
      file
        .sql(
          "INSERT OR IGNORE INTO series (id, name) VALUES ((SELECT coalesce(max(id), -1) + 1 FROM series), ?)",
        )
        .run(name);
  });
}

takeEarlierNames();
const names = namesOfFile();
const numbers = new Map(names.map(([number, name]) => [name, number]));
const earlier = openEarlier(beside, file, (name) => numbers.get(name));
const reader = new StoreReader(file, earlier);
const followers = new Followers(file);
const sealing = new Sealing(file, followers);
const writer = new StoreWriter(file, reader, sealing);
const retaining = new Retaining(file, retention, () => sealing.lastCameMs);
const moving = earlier ? new Moving(file, earlier) : null;
const guests = new Guests();
let steps = 0;
let isWorking = false;
let isClosed = false;
let isFailing = false;

const tell = (told: ThreadTold, isDamage = false) => port.postMessage({ id: -1, told, isDamage });
let toldUnreadable = 0;
function tellUnreadable(): void {
  if (file.unreadable.size === toldUnreadable) return;
  toldUnreadable = file.unreadable.size;
  tell({ unreadable: toldUnreadable });
}

function step(): boolean {
  if (sealing.step()) return true;
  if (!moving || !reader.earlier || moving.isDone) return false;
  const isMore = moving.step();
  steps += 1;
  if (steps % toldEvery === 0 || moving.isDone) tell({ moving: moving.progress() });
  return isMore;
}

/** Works a step, lets in what is asked, and goes on. */
function workSoon(afterMs = 0): void {
  if (isWorking || isClosed) return;
  isWorking = true;
  const work = () => {
    isWorking = false;
    if (isClosed) return;
    try {
      const isMore = step();
      if (isFailing) tell({ trouble: null });
      isFailing = false;
      tellUnreadable();
      if (isMore) workSoon();
    } catch (error) {
      file.forgetParts();
      sealing.look();
      isFailing = true;
      const { error: trouble, isDamage } = failureOf(error);
      tell({ trouble }, isDamage);
      workSoon(againMs);
    }
  };
  if (afterMs > 0) setTimeout(work, afterMs);
  else setImmediate(work);
}

/** Days go until the file is small enough, or one that is too old. */
function retain(): void {
  try {
    while (retaining.step() && retaining.bytes() > retention.keepBytes);
  } catch (error) {
    const { error: trouble, isDamage } = failureOf(error);
    tell({ trouble }, isDamage);
  }
}
const retainTimer = setInterval(retain, retainEveryMs);
retainTimer.unref();

/** What is too old is known once the first rows came. */
function committed(request: CommitRequest): number {
  const isFirst = sealing.lastCameMs === null;
  const rows = writer.commit(request);
  if (isFirst && sealing.lastCameMs !== null) setImmediate(retain);
  return rows;
}

function answer(request: WriterRequest): unknown {
  switch (request.type) {
    case "commit":
      return committed(request);
    case "write":
      return writer.write(request.names, request.batch);
    case "stage":
      return writer.stage(request.job, request.names, batchOfNumbered(request.pieces));
    case "publish":
      return writer.publish(request.job);
    case "discard":
      return writer.discard(request.job);
    case "staged":
      return writer.staged();
    case "know-none-after":
      return file.sql("UPDATE meta SET stored_seq = min(stored_seq, ?)").run(request.seq) && null;
    case "follow":
      return followers.follow(request.follower);
    case "sent":
      return followers.sent(request.follower, request.batch);
    case "paying":
      return followers.paying(request.follower);
    case "paid":
      return followers.paid(request.follower, request.range);
    case "owe":
      return followers.owe(request.follower, request.ranges);
    case "free-oldest":
      return retaining.freeOldest();
    case "remove-earlier":
      reader.earlier?.close();
      reader.earlier = null;
      return leaveEarlier(file, beside);
    case "close":
      isClosed = true;
      clearInterval(retainTimer);
      reader.earlier?.close();
      return database.close();
  }
}

port.on("message", async (request: (WriterRequest & { readonly id: number }) | GuestRequest) => {
  if (request.type === "take-in") return guests.takeIn(request);
  if (request.type === "close") await guests.close();
  try {
    port.postMessage({ id: request.id, value: answer(request) });
  } catch (error) {
    port.postMessage({ id: request.id, ...failureOf(error) });
  }
  if (request.type === "close") port.close();
  else workSoon();
});
const meta = file.sql("SELECT rows, stored_seq FROM meta").get() as {
  rows: number;
  stored_seq: number | null;
};
const ready: WriterReady = {
  names,
  rows: meta.rows,
  storedSeq: meta.stored_seq,
  moving: moving?.progress() ?? null,
  mended,
};
port.postMessage({ id: 0, value: ready });
retain();
workSoon();
