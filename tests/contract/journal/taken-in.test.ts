// Checkpoints that are written on the thread of the series store's writer: each keeps its own troubles.
import { existsSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type MessagePort, Worker } from "node:worker_threads";
import { openJournal } from "@drumlin/gateway/journal";
import { openSqliteSeries, type SqliteSeries } from "@drumlin/gateway/series";
import { afterEach, expect, it, vi } from "vitest";
import { eventually } from "../../acceptance/gateway-process.ts";

// Real threads on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const row = (tMs: number) => ({ series: "point/supply/flow", tMs, value: 1, flag: 1 }) as const;
const checkpoint = (seq: number, key = "x") => ({
  seq,
  versions: { a: 1 },
  rows: [{ stage: "a", key, plain: seq }],
});

async function house(meanwhile: (folder: string) => void = () => {}) {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-taken-in-"));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  const ofSeries: Worker[] = [];
  const ofJournal: Worker[] = [];
  const series = await openSqliteSeries({
    folder,
    againMs: 20,
    onThread: (worker) => ofSeries.push(worker),
  });
  ends.push(() => series.close());
  const journal = await openJournal({
    folder,
    now: Date.now,
    takeIn: (service, data) => series.takeIn(service, data),
    onThread: (worker) => ofJournal.push(worker),
  });
  meanwhile(folder);
  ends.push(() => journal.close());
  return { folder, series, journal, ofSeries, ofJournal };
}

const rowsIn = async (journal: Awaited<ReturnType<typeof house>>["journal"]) => {
  const saved = await journal.loadCheckpoint();
  return saved && "rows" in saved ? Object.fromEntries(saved.rows.get("a") ?? []) : null;
};

/** What a guest's line says until it closes. */
function saidBy(port: MessagePort | null): Promise<unknown[]> {
  const said: unknown[] = [];
  port?.on("message", (one) => said.push(one));
  return new Promise((resolve) => port?.once("close", () => resolve(said)));
}
const module = (text: string) => new URL(`data:text/javascript,${encodeURIComponent(text)}`);

const whenBack = (series: SqliteSeries) =>
  eventually(
    async () => series.trouble(),
    (trouble) => trouble === null,
  );

it("they have no thread of their own, and end in order with the store: their file alone is whole", async () => {
  const { folder, series, journal, ofSeries, ofJournal } = await house();
  expect(await journal.saveCheckpoint(checkpoint(1))).toBe(true);
  await series.write([row(1)]);
  expect([ofSeries.length, ofJournal.length]).toEqual([1, 1]);
  expect(existsSync(join(folder, "checkpoint.state-wal"))).toBe(true);
  await series.close();
  expect(existsSync(join(folder, "checkpoint.state-wal"))).toBe(false);
  expect(await rowsIn(journal)).toEqual({ x: 1 });
});

it("the thread ends: the checkpoint under way fails by name, and the next one writes what it held", async () => {
  const { series, journal, ofSeries } = await house();
  await journal.saveCheckpoint(checkpoint(1));
  const stored = Promise.withResolvers<boolean>();
  const saving = journal.saveCheckpoint(checkpoint(2, "y"), stored.promise);
  const ended = ofSeries[0]?.terminate();
  stored.resolve(true);
  await expect(saving).rejects.toMatchObject({ code: "journal-failed" });
  await ended;
  await whenBack(series);
  expect(await journal.saveCheckpoint(checkpoint(3, "z"))).toBe(true);
  expect(await rowsIn(journal)).toEqual({ x: 1, y: 2, z: 3 });
  // It was the store's thread, and the store tells of it.
  expect(journal.checkpointTrouble).toBeNull();
});

it("while the thread is away a checkpoint fails by name, and holds what it was given", async () => {
  const { series, journal, ofSeries } = await house();
  await journal.saveCheckpoint(checkpoint(1));
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  ends.push(() => vi.useRealTimers());
  await ofSeries[0]?.terminate();
  await expect(journal.saveCheckpoint(checkpoint(2, "y"))).rejects.toMatchObject({
    code: "journal-failed",
    message: expect.stringContaining("away"),
  });
  vi.advanceTimersByTime(20);
  vi.useRealTimers();
  await whenBack(series);
  expect(await journal.saveCheckpoint(checkpoint(3, "z"))).toBe(true);
  expect(await rowsIn(journal)).toEqual({ x: 1, y: 2, z: 3 });
});

it("a checkpoint that can't be written fails by name, and the store goes on", async () => {
  const { series, journal } = await house((folder) => mkdirSync(join(folder, "checkpoint.state")));
  await expect(journal.saveCheckpoint(checkpoint(1))).rejects.toMatchObject({ code: "journal-failed" });
  await series.write([row(1)]);
  expect((await series.latest("point/supply/flow"))?.tMs).toBe(1);
  expect(series.trouble()).toBeNull();
});

it("one that can't come is told of on its own line, and the store goes on, and ends", async () => {
  const { series } = await house();
  const gone = saidBy(series.takeIn(module("throw new Error('no such thing')"), null));
  expect(await gone).toEqual([{ notTakenIn: "no such thing" }]);
  const failing = saidBy(
    series.takeIn(module("export const serve = () => { throw new Error('full') }"), null),
  );
  expect(await failing).toEqual([{ notTakenIn: "full" }]);
  const stubborn = module("export const serve = () => ({ close() { throw new Error('not I') } })");
  const line = series.takeIn(stubborn, null);
  await series.write([row(1)]);
  expect(series.trouble()).toBeNull();
  await series.close();
  line?.close();
});

it("without one that takes it in, it has a thread of its own", async () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-taken-in-"));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  const threads: Worker[] = [];
  const journal = await openJournal({ folder, now: Date.now, onThread: (worker) => threads.push(worker) });
  ends.push(() => journal.close());
  await journal.saveCheckpoint(checkpoint(1));
  expect(threads.map((one) => one instanceof Worker)).toEqual([true, true]);
});
