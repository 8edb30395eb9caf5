import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Worker } from "node:worker_threads";
import { openJournal } from "@drumlin/gateway/journal";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { afterEach, describe, expect, it, vi } from "vitest";
import { eventually } from "../../acceptance/gateway-process.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-threads-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  vi.useRealTimers();
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});
const row = (tMs: number) => ({ series: "point/supply/flow", tMs, value: 1, flag: 1 }) as const;
const checkpoint = (seq: number) => ({
  seq,
  versions: { a: 1 },
  rows: [{ stage: "a", key: "x", plain: seq }],
});

describe("a thread that ends by itself", () => {
  it("of the series: what was asked fails at once, and it is started again", async () => {
    const threads: Worker[] = [];
    const series = await openSqliteSeries({
      folder: folder(),
      againMs: 20,
      onThread: (worker) => threads.push(worker),
    });
    await series.write([row(1)]);
    await series.latest("point/supply/flow");
    // It stays away until all is asked, however long that takes.
    vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
    const [writer, reader] = threads;
    const asked = series.write([row(2)]).catch(() => {});
    await Promise.all([writer?.terminate(), reader?.terminate()]);
    await asked;
    await expect(series.write([row(3)])).rejects.toThrow("away");
    await expect(series.latest("point/supply/flow")).rejects.toThrow("away");
    // Names are known without asking.
    expect(await series.names()).toEqual(["point/supply/flow"]);
    expect(series.trouble()?.text).toContain("exit code");
    vi.advanceTimersByTime(20);
    vi.useRealTimers();
    expect(
      await eventually(
        async () => series.trouble(),
        (trouble) => trouble === null,
      ),
    ).toBeNull();
    await series.write([row(4)]);
    expect((await series.latest("point/supply/flow"))?.tMs).toBe(4);
    await series.close();
  });

  it("of the series: nobody reads, no thread for it; it comes for a question, and goes when nothing more is asked", async () => {
    const threads: Worker[] = [];
    const ended: Worker[] = [];
    const series = await openSqliteSeries({
      folder: folder(),
      againMs: 20,
      restMs: 60_000,
      onThread(worker) {
        threads.push(worker);
        worker.on("exit", () => ended.push(worker));
      },
    });
    await series.write([row(1), row(2)]);
    expect(threads).toHaveLength(1);
    vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
    // Two ask at once: one thread comes.
    const [one, all] = await Promise.all([
      series.latest("point/supply/flow"),
      Array.fromAsync(series.range("point/supply/flow", 0, 10)),
    ]);
    expect([one?.tMs, all.flat().length, threads.length]).toEqual([2, 2, 2]);
    // Each question gives it the whole time again, and one under way is answered however long it takes.
    vi.advanceTimersByTime(59_000);
    await series.latest("point/supply/flow");
    vi.advanceTimersByTime(59_000);
    const asked = series.latest("point/supply/flow");
    vi.advanceTimersByTime(600_000);
    expect((await asked)?.tMs).toBe(2);
    expect(threads).toHaveLength(2);
    vi.advanceTimersByTime(60_000);
    vi.useRealTimers();
    await eventually(
      async () => ended.length,
      (count) => count === 1,
    );
    expect(ended).toEqual([threads[1]]);
    expect(series.trouble()).toBeNull();
    await series.write([row(3)]);
    expect((await series.latest("point/supply/flow"))?.tMs).toBe(3);
    expect(threads).toHaveLength(3);
    await series.close();
  });

  it("of the series: one that can't come when it is asked is told of, and tried again", async () => {
    const threads: Worker[] = [];
    let isHeldDown = true;
    const series = await openSqliteSeries({
      folder: folder(),
      againMs: 20,
      onThread(worker) {
        threads.push(worker);
        if (isHeldDown && threads.length > 1) void worker.terminate();
      },
    });
    await series.write([row(1)]);
    await expect(series.latest("point/supply/flow")).rejects.toThrow("ended");
    expect(series.trouble()?.kind).toBe("thread");
    isHeldDown = false;
    await eventually(
      async () => series.trouble(),
      (trouble) => trouble === null,
    );
    expect((await series.latest("point/supply/flow"))?.tMs).toBe(1);
    await series.close();
  });

  it("of the checkpoints: the one under way is written by a new thread, since what it holds is held here", async () => {
    const threads: Worker[] = [];
    const journal = await openJournal({
      folder: folder(),
      now: Date.now,
      onThread: (worker) => threads.push(worker),
    });
    await journal.append({ kind: "tick" });
    expect(await journal.saveCheckpoint(checkpoint(1))).toBe(true);
    const stored = Promise.withResolvers<boolean>();
    const saving = journal.saveCheckpoint(checkpoint(1), stored.promise);
    await threads.at(-1)?.terminate();
    expect(journal.checkpointTrouble).toContain("exit code");
    stored.resolve(true);
    expect(await saving).toBe(true);
    expect(await journal.saveCheckpoint(checkpoint(1))).toBe(true);
    expect(journal.checkpointTrouble).toBeNull();
    await journal.close();
  });

  it("of the journal: it is told once, everything that waits is answered, and it closes", async () => {
    const threads: Worker[] = [];
    const told: string[] = [];
    const journal = await openJournal({
      folder: folder(),
      now: Date.now,
      onThread: (worker) => threads.push(worker),
      onEnded: (why) => told.push(why),
    });
    await journal.append({ kind: "tick" });
    const reading = journal.read(1)[Symbol.asyncIterator]().next();
    const asked = [journal.append({ kind: "tick" }), journal.append({ kind: "tick" }), reading];
    const settled = Promise.allSettled(asked);
    await threads[0]?.terminate();
    await settled;
    expect(told).toEqual(["exit code 1"]);
    expect(journal.ended).toContain("thread ended");
    await expect(journal.append({ kind: "tick" })).rejects.toMatchObject({ code: "journal-failed" });
    await expect(journal.read(1)[Symbol.asyncIterator]().next()).rejects.toMatchObject({
      code: "journal-failed",
    });
    await journal.close();
  });
});
