import fs, { mkdtempSync, rmSync, statSync } from "node:fs";
import { syncBuiltinESMExports } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Logbook, type LogbookOutcome, openLogbook } from "@drumlin/gateway/logbook";
import { afterEach, beforeEach, expect, it } from "vitest";

const { fsync } = fs;
let folder: string;
let logbook: Logbook;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-write-log-"));
  logbook = openLogbook({ folder });
});
afterEach(() => {
  Object.assign(fs, { fsync });
  syncBuiltinESMExports();
  logbook.close();
  rmSync(folder, { recursive: true, force: true });
});

/** From now on the disk takes its time: gives how often it was asked, and what lets it answer. */
function slowDisk() {
  const waiting: ((error: Error | null) => void)[] = [];
  Object.assign(fs, { fsync: (_file: number, done: (error: Error | null) => void) => waiting.push(done) });
  syncBuiltinESMExports();
  return {
    asked: () => waiting.length,
    answers: (error: Error | null) => waiting.splice(0).forEach((done) => void done(error)),
  };
}
const line = (seq: number, yaml = "a"): LogbookOutcome => ({ kind: "line", seq, atMs: seq, yaml });
const turn = () => new Promise((resolve) => setImmediate(resolve));

it("a disk that takes long holds nobody up: what comes meanwhile is written, and read", async () => {
  const disk = slowDisk();
  logbook.record([line(1)], 1);
  let isOnDisk = false;
  const synced = logbook.sync(1).then(() => {
    isOnDisk = true;
  });
  for (let n = 2; n < 50; n += 1) {
    await turn();
    logbook.record([line(n, `text ${n}`)], n);
    expect(logbook.lastLine()).toBe(`text ${n}`);
  }
  expect([disk.asked(), isOnDisk]).toEqual([1, false]);
  disk.answers(null);
  await synced;
  expect(logbook.storedSeq()).toBe(49);
});

it("a disk that does not take it says so, and is asked again the next time", async () => {
  const disk = slowDisk();
  logbook.record([line(1)], 1);
  const synced = logbook.sync(1);
  disk.answers(new Error("EIO: i/o error, fsync"));
  await expect(synced).rejects.toThrow("EIO");
  const again = logbook.sync(1);
  disk.answers(null);
  await again;
});

it("a log over 4 MB is put into the file by a thread of its own, and begins anew", async () => {
  const file = join(folder, "logbook.sqlite");
  const log = () => statSync(`${file}-wal`).size;
  const before = statSync(file).size;
  let seq = 1100;
  for (let n = 1; n <= 1100; n += 1) logbook.record([line(n, "x".repeat(4000))], n);
  // Nothing was put there by the thread that writes.
  expect(log()).toBeGreaterThan(4_096_000);
  expect(statSync(file).size).toBe(before);
  await logbook.sync(1100);
  await expect.poll(() => statSync(file).size).toBeGreaterThan(4_000_000);
  // As at each checkpoint: what was written while the thread was at it is put there by the next.
  await expect
    .poll(
      async () => {
        seq += 1;
        logbook.record([line(seq)], seq);
        await logbook.sync(seq);
        return log();
      },
      { interval: 100 },
    )
    .toBeLessThan(200_000);
  expect([...logbook.all("line")]).toHaveLength(seq);
});
