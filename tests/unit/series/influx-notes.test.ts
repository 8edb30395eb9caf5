// What the sender keeps in files of its own, and how it is opened: on a disk that takes its time, with files that are damaged.
import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import promises, { mkdtemp } from "node:fs/promises";
import { createServer, type Server } from "node:http";
import { syncBuiltinESMExports } from "node:module";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openInfluxSender } from "@drumlin/gateway/series";
import { afterEach, beforeEach, expect, it } from "vitest";
import type { BatchLog } from "../../../gateway/src/series/batch-log.ts";
import { storeInOneThread } from "./store-in-one-thread.ts";

const series = "reading/press/ec-1[S/m]";
const beginMs = Date.UTC(2026, 2, 1);
const { writeFile } = promises;

let folder: string;
let store: ReturnType<typeof storeInOneThread>;
let server: Server;
/** Lines of each write, as they came. */
let written: string[];
/** Looks at each write before it is answered. */
let onWrite: () => void;
let answer: { readonly status: number; readonly error?: string };
let tell: () => void;
let aheadMs: number;
let changes: (string | null)[];
let end: () => Promise<void>;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "drumlin-notes-"));
  store = storeInOneThread(folder);
  store.followers.follow("influx");
  [written, onWrite, answer, aheadMs, changes, tell] = [[], () => {}, { status: 204 }, 0, [], () => {}];
  server = createServer(async (asked, said) => {
    const body = (await asked.toArray()).join("");
    const isWrite = asked.url?.startsWith("/write") === true;
    if (isWrite) {
      onWrite();
      written.push(body);
    }
    const status = answer.status === 204 && !isWrite ? 200 : answer.status;
    said.writeHead(status, { "content-type": "application/json" });
    said.end(status === 204 ? undefined : JSON.stringify({ error: answer.error, results: [] }));
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
});
afterEach(async () => {
  await end();
  Object.assign(promises, { writeFile });
  syncBuiltinESMExports();
  server.closeAllConnections();
  server.close();
  store.close();
  rmSync(folder, { recursive: true, force: true });
});

async function open(isPaced = true) {
  const { followers } = store;
  const log: BatchLog = {
    onStored(listener) {
      tell = listener;
      return () => {};
    },
    follow: async (name) => followers.follow(name),
    nextBatch: async (name) => followers.next(name),
    sent: async (name, id) => followers.sent(name, id),
    owed: async (name, limit) => followers.owed(name, limit),
    paying: async (name) => followers.paying(name),
    paid: async (name, range) => followers.paid(name, range),
    owe: async (name, ranges) => followers.owe(name, ranges),
    behind: async (name) => followers.behind(name),
  };
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const sender = await openInfluxSender({
    target: { url, database: "drumlin", retentionPolicy: null, signIn: { kind: "none" } },
    log,
    async *range(name, fromMs, toMs) {
      yield store.rows(name, fromMs, toMs);
    },
    folder,
    steadyMs: () => aheadMs,
    ...(isPaced ? { pace: { lookEveryMs: 5, waitMs: () => 5 } } : {}),
    onChange: (failure) => void changes.push(failure?.code ?? null),
  });
  end = () => sender.stop();
  return sender;
}

/** A batch of one row, so many seconds after the begin. */
function put(second: number): void {
  store.add([{ series, tMs: beginMs + second * 1000, value: second, flag: 1 }]);
  store.commit();
  tell();
}
const sent = () => expect.poll(() => store.followers.behind("influx")).toMatchObject({ batches: 0, owed: 0 });
/** What a file of the sender's holds; null while it isn't there. */
function kept(name: string) {
  const path = join(folder, name);
  return existsSync(path) ? JSON.parse(readFileSync(path, "utf8")) : null;
}

/** From now on writing this file takes as long as `until` does. */
function slowly(name: string, until: () => Promise<void>): void {
  Object.assign(promises, {
    async writeFile(...given: Parameters<typeof writeFile>) {
      if (String(given[0]).includes(name)) await until();
      return writeFile(...given);
    },
  });
  syncBuiltinESMExports();
}

it("a write goes out only once its note is in the file, however long the disk takes", async () => {
  slowly("in-doubt", () => new Promise((resolve) => setTimeout(resolve, 300)));
  const noted: unknown[] = [];
  onWrite = () => noted.push(kept("influx-in-doubt.json"));
  await open();
  put(0);
  await sent();
  put(7);
  await sent();
  expect(noted).toEqual(
    [0, 7].map((second) => [{ series, fromMs: beginMs + second * 1000, toMs: beginMs + second * 1000 + 1 }]),
  );
});

it("of what is set aside the file holds all, also what came while the disk took its time", async () => {
  let letGo = () => {};
  const held = new Promise<void>((resolve) => (letGo = resolve));
  slowly("set-aside", () => held);
  const error = 'partial write: field type conflict: input field "v" on measurement "reading" dropped=1';
  const sender = await open();
  onWrite = () => (answer = { status: 400, error });
  put(0);
  await sent();
  put(7);
  await expect.poll(() => sender.state().aside.map(({ points }) => points)).toEqual([2]);
  letGo();
  await expect.poll(() => kept("influx-set-aside.json")?.[0].points).toBe(2);
});

it("of damaged notes what is right counts, and the rest holds nothing up", async () => {
  store.add([{ series, tMs: beginMs, value: 5, flag: 1 }]);
  store.commit();
  store.followers.sent("influx", store.followers.next("influx")?.id as number);
  const stretch = { series, fromMs: beginMs, toMs: beginMs + 1 };
  const doubts = [null, { toMs: 5 }, stretch, { ...stretch, toMs: "x" }, { series: 7 }];
  writeFileSync(join(folder, "influx-in-doubt.json"), JSON.stringify(doubts));
  const aside = {
    ...{ code: "influx-type-conflict", measurement: "reading", points: 3, fromMs: 1, toMs: 2 },
    ...{ example: "reading v=1", said: "why" },
  };
  writeFileSync(
    join(folder, "influx-set-aside.json"),
    JSON.stringify([null, { ...aside, points: "many" }, aside, { ...aside, example: 7 }]),
  );
  const sender = await open();
  expect(sender.state().aside).toEqual([aside]);
  aheadMs = 300_001;
  await expect.poll(() => written.length).toBe(1);
  put(7);
  await sent();
  expect(written.map((text) => / (\d+)$/.exec(text.trim())?.[1])).toEqual(
    [beginMs, beginMs + 7000].map(String),
  );
});

it("that it goes on is told, where nothing else was asked for, after a minute without a failure", async () => {
  answer = { status: 401, error: "who?" };
  const sender = await open(false);
  await expect.poll(() => changes).toEqual(["influx-unauthorised"]);
  answer = { status: 204 };
  await expect.poll(() => sender.state().failure).toBeNull();
  aheadMs = 59_999;
  put(0);
  await sent();
  expect(changes).toEqual(["influx-unauthorised"]);
  aheadMs = 60_000;
  put(7);
  await expect.poll(() => changes).toEqual(["influx-unauthorised", null]);
});
