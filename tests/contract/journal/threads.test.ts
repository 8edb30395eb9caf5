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
